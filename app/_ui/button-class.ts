export type ButtonKind = 'first' | 'second' | 'stop' | 'plain'

export interface ButtonLook {
  readonly kind?: ButtonKind | undefined
  readonly small?: boolean | undefined
  readonly block?: boolean | undefined
  readonly glove?: boolean | undefined
}

const kinds: Record<ButtonKind, string> = {
  first: 'btn',
  second: 'btn second',
  stop: 'btn second stop',
  plain: 'btn plain',
}

/** The classes of a button; `first` is the solid one, of which a view has one. */
export function buttonClass({ kind = 'second', small, block, glove }: ButtonLook): string {
  return [kinds[kind], small && 'small', block && 'full-width', glove && 'glove'].filter(Boolean).join(' ')
}
