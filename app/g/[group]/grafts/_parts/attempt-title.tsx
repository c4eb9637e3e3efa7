import { VarietyName } from '#app/_ui/name.tsx'
import { ontoWords } from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import type { AttemptView } from '#lib/attempts/view.ts'

/** "4 × ‘Ashmead’s Kernel’ on MM106". */
export function AttemptTitle({ attempt }: { readonly attempt: AttemptView }) {
  const onto = ontoWords(attempt)
  return (
    <>
      {attempt.pieces} × <VarietyName name={attempt.varietyName} />
      {onto && ` on ${onto}`}
    </>
  )
}
