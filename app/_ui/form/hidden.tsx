/** A value that the form carries along. */
export function Hidden({ name, value }: { readonly name: string; readonly value: string }) {
  return <input type="hidden" name={name} value={value} />
}
