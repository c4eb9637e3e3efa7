import { VarietyName } from '#app/_ui/name.tsx'
import { ontoWords } from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import type { AttemptView } from '#lib/attempts/view.ts'

interface AttemptTitleProps {
  readonly attempt: Pick<AttemptView, 'pieces' | 'varietyName' | 'stock' | 'hostTreeCode'> & {
    readonly hostLimbMark?: string | null
  }
}

/** "4 × ‘Ashmead’s Kernel’ on MM106". */
export function AttemptTitle({ attempt }: AttemptTitleProps) {
  const onto = ontoWords({ hostLimbMark: null, ...attempt })
  return (
    <>
      {attempt.pieces} × <VarietyName name={attempt.varietyName} />
      {onto && ` on ${onto}`}
    </>
  )
}
