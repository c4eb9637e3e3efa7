import { type FactBasis, findMethod, type Method, type MethodKey } from '#lib/grafting/methods.ts'
import { type Hemisphere, leafFallAfter, nextFirstOf, secondSpringAfter } from '#lib/grafting/season.ts'
import { required } from '#lib/kernel/assert.ts'
import { addDays, type CivilDate, civilDate } from '#lib/kernel/civil-date.ts'

export const checkpointKeys = [
  'thirty-days',
  'ninety-days',
  'callused',
  'rooted',
  'potted',
  'leaf-fall',
  'established',
  'second-spring',
  'first-fruit',
  'later-failure',
] as const

export type CheckpointKey = (typeof checkpointKeys)[number]

/** What a checkpoint asks. */
export const checkpointQuestions: Readonly<Record<CheckpointKey, string>> = {
  'thirty-days': 'After 30 days: green, moving or dead?',
  'ninety-days': 'After 90 days: growing, stalled or dead?',
  callused: 'Has callus formed?',
  rooted: 'Has it rooted?',
  potted: 'Is it potted, and still alive?',
  'leaf-fall': 'At leaf-fall: still alive?',
  established: 'Is it established, growing on its own?',
  'second-spring': 'Second spring: in leaf again?',
  'first-fruit': 'First fruit: true to its name?',
  'later-failure': 'Has the union broken, or the tree declined?',
}

/** A day on which a look at an attempt is asked for. */
export interface Checkpoint {
  readonly key: CheckpointKey
  readonly dueOn: CivilDate
  /** Asked again after so many years while there is nothing to tell; null when it is asked once. */
  readonly againAfterYears: number | null
  readonly basis: FactBasis
}

const commonPractice: FactBasis = 'common practice, no source'
/** Delayed incompatibility shows in these trials and reports after 2, 5 and 10 to 20 years. */
const delayedFailure: FactBasis = {
  source:
    'Aula Dei trials of apricot and plum (abstracts); growers’ reports of pear on quince and tropical fruit',
}

const september = 9
const once = { againAfterYears: null, basis: commonPractice } as const

const yearsLater = (date: CivilDate, years: number): CivilDate =>
  // All dates that come here are the 1st of a month, so there is no 29 February to lose.
  civilDate(`${Number(date.slice(0, 4)) + years}${date.slice(4)}`)

function ofGraft(madeOn: CivilDate, hemisphere: Hemisphere): readonly Checkpoint[] {
  const secondSpring = secondSpringAfter(madeOn, hemisphere)
  return [
    { ...once, key: 'thirty-days', dueOn: addDays(madeOn, 30) },
    { ...once, key: 'ninety-days', dueOn: addDays(madeOn, 90) },
    { ...once, key: 'leaf-fall', dueOn: leafFallAfter(madeOn, hemisphere) },
    { ...once, key: 'second-spring', dueOn: secondSpring },
    ...fruitAndAfter(secondSpring, hemisphere),
  ]
}

/** The autumn of the second season is the first in which it is worth asking for fruit; few will have any. */
function fruitAndAfter(secondSpring: CivilDate, hemisphere: Hemisphere): readonly Checkpoint[] {
  return [
    {
      key: 'first-fruit',
      dueOn: nextFirstOf(september, secondSpring, hemisphere),
      againAfterYears: 1,
      basis: commonPractice,
    },
    { key: 'later-failure', dueOn: yearsLater(secondSpring, 3), againAfterYears: 5, basis: delayedFailure },
  ]
}

/** How long after rooting a piece is usually in its own pot, days. */
const pottedAfterDays = 42

function ofRooting(method: Method, madeOn: CivilDate, hemisphere: Hemisphere): readonly Checkpoint[] {
  const rootedAfter = method.firstLook.afterDays
  const rooted = addDays(madeOn, rootedAfter)
  const secondSpring = secondSpringAfter(rooted, hemisphere)
  const fruit = fruitAndAfter(secondSpring, hemisphere).filter(({ key }) => key === 'first-fruit')
  return [
    ...(method.kind === 'cutting'
      ? [{ ...once, key: 'callused', dueOn: addDays(madeOn, rootedAfter / 2) } as const]
      : []),
    { ...once, key: 'rooted', dueOn: rooted, basis: method.firstLook.basis },
    { ...once, key: 'potted', dueOn: addDays(rooted, pottedAfterDays) },
    { ...once, key: 'established', dueOn: secondSpring },
    ...fruit,
  ]
}

/**
 * The looks that an attempt asks for, by day: for grafts and buds 30 and 90 days, leaf-fall, second spring, first
 * fruit, and later failure; for cuttings callused, rooted, potted, established and first fruit; for layers the same
 * without the callus, which nobody sees. “Not attempted” is an answer to any of them, and nothing is asked of a
 * piece that is dead: that is for the caller, who knows.
 */
export function checkpointsOf(
  method: MethodKey,
  madeOn: CivilDate,
  hemisphere: Hemisphere,
): readonly Checkpoint[] {
  const found: Method = required(findMethod(method), `method ${method}`)
  const checkpoints =
    found.kind === 'graft' ? ofGraft(madeOn, hemisphere) : ofRooting(found, madeOn, hemisphere)
  return checkpoints.toSorted((a, b) => (a.dueOn < b.dueOn ? -1 : a.dueOn > b.dueOn ? 1 : 0))
}
