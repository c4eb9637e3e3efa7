import { dayMonth } from '#app/_ui/dates.ts'
import { Ladder } from '#app/_ui/ladder.tsx'
import { lookNote, lookWords, seenWords } from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import type { AttemptView } from '#lib/attempts/view.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

interface LooksLadderProps {
  readonly attempt: AttemptView
  readonly today: CivilDate
}

/** The looks of a batch in their order; the newest one says what was seen. */
export function LooksLadder({ attempt, today }: LooksLadderProps) {
  const { looks, standing, method } = attempt
  const lastDone = looks.findLast((look) => look.state === 'done')
  return (
    <Ladder
      steps={looks.map((look) => ({
        state: look.state,
        title: lookWords[look.name],
        note:
          look === lastDone && standing
            ? `${seenWords(standing, method)}, ${dayMonth(standing.checkedOn)}`
            : lookNote(look, today),
      }))}
    />
  )
}
