import { displayCode } from '#app/_ui/code.tsx'
import { dayMonth, recordedDay } from '#app/_ui/dates.ts'
import { countOf } from '#app/_ui/measures.ts'
import type { Look, LookName } from '#lib/attempts/next-look.ts'
import type { AttemptView, CheckView } from '#lib/attempts/view.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

/** A look by its name. */
export const lookWords: Readonly<Record<LookName, string>> = {
  'thirty-days': '30 days',
  'ninety-days': '90 days',
  callused: 'Callused',
  rooted: 'Rooted',
  potted: 'Potted',
  'leaf-fall': 'Leaf-fall',
  established: 'Established',
  'second-spring': 'Second spring',
  'first-fruit': 'First fruit',
  'later-failure': 'Still sound',
}

/** "alive" of a graft, "rooted" of a cutting or a layer. */
export const livingWord = (method: AttemptView['method']): string =>
  method.successWord === 'rooted' ? 'rooted' : 'alive'

/** What the pieces of a batch are called, one and many. */
export const pieceWords = (method: AttemptView['method']): readonly [string, string] =>
  method.kind === 'graft'
    ? ['graft', 'grafts']
    : method.kind === 'cutting'
      ? ['cutting', 'cuttings']
      : ['layer', 'layers']

/** "4 of 6 alive", "3 of 6 rooted, 2 not known". */
export function seenWords(check: CheckView, method: AttemptView['method']): string {
  const pieces = check.alive + check.dead + check.unknown
  const seen = `${countOf(check.alive, pieces)} ${livingWord(method)}`
  return check.unknown > 0 ? `${seen}, ${check.unknown} not known` : seen
}

/** How a look of the plan stands, in a few words. */
export function lookNote(look: Look, today: CivilDate): string {
  switch (look.state) {
    case 'done':
      return 'seen'
    case 'late':
      return `since ${recordedDay(look.on, today)}`
    case 'due':
      return look.on === today ? 'due today' : `due since ${dayMonth(look.on)}`
    case 'next':
      return recordedDay(look.on, today)
  }
}

/** What it was put on: the tree, the stock, or both. */
export function ontoWords(
  attempt: Pick<AttemptView, 'stock' | 'hostTreeCode' | 'hostLimbMark'>,
): string | null {
  const limb = attempt.hostLimbMark ? `limb ${attempt.hostLimbMark} of ` : ''
  const tree = attempt.hostTreeCode ? `${limb}tree ${displayCode(attempt.hostTreeCode)}` : null
  return tree && attempt.stock ? `${attempt.stock}, ${tree}` : (tree ?? attempt.stock)
}

/** The four answers about experience. */
export const skillChoices = [
  { value: 'not_said', label: 'I would rather not say' },
  { value: 'first_ten', label: 'My first ten or so' },
  { value: 'ten_to_hundred', label: 'Some: ten to a hundred' },
  { value: 'over_hundred', label: 'Many: over a hundred' },
] as const
