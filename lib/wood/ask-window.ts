import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { StorageHistoryRefusal } from '#lib/viability/storage-history.ts'
import { answerWindow, type WindowAnswer } from '#lib/wood/answer-window.ts'
import { WindowQuestion } from '#lib/wood/window-question.ts'

export interface BadQuestion {
  /** What is wrong, by field; '' is the question as a whole. */
  readonly fields: Readonly<Record<string, readonly string[]>>
}

const modelWords: Record<StorageHistoryRefusal['reason'], string> = {
  'not-a-date': 'One of the days is too far away to reckon with.',
  'cut-in-future': 'The day of cutting lies after the day that is asked about.',
  'stint-before-cut': 'A temperature is from before the day of cutting.',
  'stint-ends-before-it-starts': 'The temperatures are not in the order of time.',
  'stints-overlap': 'Two temperatures are for the same time.',
  'temperature-out-of-order': 'A temperature does not hold together.',
  'absurd-temperature': 'No place where wood is kept is as cold or as warm as that.',
  'not-a-bud-stage': 'Choose how the buds look from the list.',
}

/** Today where the server stands; a question has no group and so no time zone of its own. */
const todayOf = (now: Date): CivilDate => civilDateIn('UTC', now)

/** Answers what stands in an address, or says what is wrong with it field by field. */
export function askWindow(
  query: Readonly<Record<string, string>>,
  now: Date,
): Result<WindowAnswer, BadQuestion> {
  const parsed = WindowQuestion.safeParse(query)
  if (!parsed.success) {
    const fields: Record<string, string[]> = {}
    for (const { path, message } of parsed.error.issues) {
      const name = String(path[0] ?? '')
      fields[name] = [...(fields[name] ?? []), message]
    }
    return refuse({ fields })
  }
  const answer = answerWindow(parsed.data, todayOf(now))
  return 'kind' in answer ? refuse({ fields: { '': [modelWords[answer.reason]] } }) : ok(answer)
}
