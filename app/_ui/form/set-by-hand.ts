/**
 * Sets a control as if it had been typed, so that whatever listens to it hears of it. React looks at the value
 * through its own setter on the element and would take no notice of a plain assignment.
 */
export function setByHand(input: HTMLInputElement, value: string): void {
  const write = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set
  write?.call(input, value)
  input.dispatchEvent(new Event('input', { bubbles: true }))
}
