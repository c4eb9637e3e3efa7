import type { Answer } from '#lib/attempts/answer-input.ts'
import { batchName } from '#lib/attempts/batch-name.ts'
import type { DueLook } from '#lib/attempts/due-looks.ts'
import { checkpointQuestions } from '#lib/grafting/checkpoints.ts'
import { formatEpithet } from '#lib/grafting/cultivar-name.ts'
import { findMethod } from '#lib/grafting/methods.ts'
import { dayWords } from '#lib/people/day-words.ts'

/** One batch of a reminder, with the address that answers for it. */
export interface AskedLook {
  readonly due: DueLook
  /** The address of its page, to which `?say=` is added. */
  readonly address: string
}

export interface Letter {
  readonly subject: string
  readonly body: string
}

/** "4 × ‘Ashmead’s Kernel’ on MM106, whip and tongue, made 12 Mar 2027". */
function batchWords(due: DueLook): string {
  const method = findMethod(due.method)?.name.toLowerCase() ?? due.method
  return `${batchName(due)}, ${method}, made ${dayWords(due.madeOn)}`
}

function answersOf({ method, pieces }: DueLook): readonly (readonly [Answer, string])[] {
  const living = findMethod(method)?.successWord === 'rooted' ? 'rooted' : 'alive'
  const ends = [
    ['not-attempted', 'Never made after all'],
    ['cannot-tell', 'I cannot tell'],
  ] as const
  return pieces === 1
    ? [['all', living === 'alive' ? 'Alive' : 'Rooted'], ['none', 'Dead'], ...ends]
    : [['all', `All ${pieces} ${living}`], ['some', `Some ${living}`], ['none', 'All dead'], ...ends]
}

const asked = ({ due, address }: AskedLook): string =>
  [
    batchWords(due),
    checkpointQuestions[due.look.name],
    '',
    ...answersOf(due).map(([say, words]) => `${words}:\n${address}?say=${say}`),
  ].join('\n')

/** The mail that asks somebody for looks. Opening a link records nothing; the button on its page does. */
export function reminderLetter(letter: {
  readonly groupName: string
  readonly looks: readonly AskedLook[]
  readonly until: string
  readonly stopPage: string
}): Letter {
  const { groupName, looks, until, stopPage } = letter
  const [first] = looks
  const subject =
    looks.length === 1 && first
      ? `How do they stand? ${first.due.pieces} × ${formatEpithet(first.due.varietyName)}`
      : `How do they stand? ${looks.length} batches of yours`
  return {
    subject,
    body: [
      `${groupName} would like to know what became of your grafts and cuttings. Dead and never made are useful answers too.`,
      '',
      ...looks.flatMap((look) => [asked(look), '', '']),
      `Each link opens a page with your answer on it and one button; nothing is recorded before you press that. You need not sign in. A wrong answer can be put right through the same link until ${until}.`,
      '',
      'These links are yours alone: whoever has them can answer for you.',
      'We ask twice for each look, and then no more.',
      '',
      `Stop these reminders: ${stopPage}`,
    ].join('\n'),
  }
}
