import { Refusal } from '#app/_ui/refusal.tsx'
import { notAllowed, type Right } from '#lib/access/policy.ts'
import { ledgerRefusalWords } from '#lib/ledger/refusal-words.ts'

interface NotForYouProps {
  readonly right: Right
  readonly back: { readonly href: string; readonly label: string }
}

/** In the place of a page that the person's role does not include. */
export function NotForYou({ right, back }: NotForYouProps) {
  const { message, next } = ledgerRefusalWords(notAllowed(right))
  return <Refusal message={message} next={[...next, back]} />
}
