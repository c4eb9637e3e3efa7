import { type CareTask, careTasks } from '#lib/grafting/care-tasks.ts'
import { findMethod, type Method, type MethodKey } from '#lib/grafting/methods.ts'
import { type Hemisphere, leafFallAfter, nextFirstOf, northernMonth } from '#lib/grafting/season.ts'
import { required } from '#lib/kernel/assert.ts'
import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'

/** What holds a graft together, or covers it. */
export const wraps = [
  { key: 'tape', name: 'Grafting tape' },
  { key: 'rubber', name: 'Budding rubber' },
  { key: 'film', name: 'Stretch film that rots in the sun' },
  { key: 'string', name: 'String or raffia' },
  { key: 'nylon', name: 'Nylon, fishing line or cable tie' },
  { key: 'wax', name: 'Wax or paste alone' },
  { key: 'none', name: 'Nothing' },
  { key: 'unknown', name: 'I do not know' },
] as const

export type WrapKey = (typeof wraps)[number]['key']

/** What the care of a graft goes by. */
export interface CareInput {
  readonly method: MethodKey
  readonly wrap: WrapKey
  readonly madeOn: CivilDate
  readonly hemisphere: Hemisphere
  /** Whether anything of it is alive as far as anybody knows. Nothing is asked for a dead graft. */
  readonly isAnyAlive: boolean
}

const tied: readonly WrapKey[] = ['tape', 'rubber', 'film', 'string', 'nylon', 'unknown']
const unyielding: readonly WrapKey[] = ['string', 'nylon']
const buds: readonly MethodKey[] = ['chip-bud', 't-bud', 'patch-bud']
/** Methods that cut a thick limb back, and so let the sun on bark that was in the shade. */
const cutBack: readonly MethodKey[] = ['cleft', 'bark', 'four-flap']
const liftsBark: readonly MethodKey[] = ['bark', 'four-flap']

const weeks = (count: number) => count * 7
const rubEveryWeeks = 3

/** Buds set from midsummer on rest until the next spring. */
const restsUntilSpring = ({ method, madeOn, hemisphere }: CareInput) =>
  buds.includes(method) && northernMonth(madeOn, hemisphere) >= 7

/** Every three weeks of the first season in which the scion grows. */
function rubbing(input: CareInput): readonly CareTask[] {
  const { madeOn, hemisphere } = input
  const from = restsUntilSpring(input) ? nextFirstOf(4, madeOn, hemisphere) : madeOn
  const until = leafFallAfter(from, hemisphere)
  const days: CivilDate[] = []
  for (let day = addDays(from, weeks(rubEveryWeeks)); day < until; day = addDays(day, weeks(rubEveryWeeks))) {
    days.push(day)
  }
  return days.map((day, i) => ({
    ...careTasks.rubShoots,
    id: `rub-shoots-${i + 1}`,
    openFrom: day,
    dueOn: day,
    overdueFrom: addDays(day, weeks(rubEveryWeeks)),
  }))
}

function tieTasks({ method, wrap, madeOn }: CareInput): readonly CareTask[] {
  if (!tied.includes(wrap)) return []
  const isBud = buds.includes(method)
  const inspectOn = addDays(madeOn, weeks(isBud ? 4 : 8))
  const releaseBy = addDays(madeOn, weeks(isBud ? 6 : 10))
  const { inspectBudTie, inspectTie, releaseBudTie, releaseTie } = careTasks
  return [
    {
      ...(isBud ? inspectBudTie : inspectTie),
      id: 'inspect-tie',
      openFrom: inspectOn,
      dueOn: inspectOn,
      overdueFrom: addDays(releaseBy, 1),
    },
    {
      ...(isBud ? releaseBudTie : releaseTie),
      id: 'release-tie',
      openFrom: inspectOn,
      dueOn: releaseBy,
      overdueFrom: addDays(releaseBy, 1),
      isStrongWhenOverdue: unyielding.includes(wrap),
    },
  ]
}

function approachTasks({ method, madeOn }: CareInput): readonly CareTask[] {
  if (method !== 'approach') return []
  const severBy = addDays(madeOn, weeks(13))
  return [
    {
      ...careTasks.wean,
      id: 'wean',
      openFrom: addDays(madeOn, weeks(8)),
      dueOn: addDays(madeOn, weeks(8)),
      overdueFrom: addDays(severBy, 1),
    },
    {
      ...careTasks.sever,
      id: 'sever',
      openFrom: addDays(madeOn, weeks(9)),
      dueOn: severBy,
      overdueFrom: addDays(severBy, 1),
    },
  ]
}

function barkTasks(input: CareInput): readonly CareTask[] {
  const { method, madeOn } = input
  const release = tieTasks(input).find(({ id }) => id === 'release-tie')
  const paint: readonly CareTask[] = cutBack.includes(method)
    ? [
        {
          ...careTasks.protectBark,
          id: 'protect-bark',
          openFrom: madeOn,
          dueOn: addDays(madeOn, 1),
          overdueFrom: addDays(madeOn, weeks(1)),
        },
      ]
    : []
  const cover: readonly CareTask[] =
    liftsBark.includes(method) && release
      ? [
          {
            ...careTasks.coverUnion,
            id: 'cover-union',
            openFrom: release.openFrom,
            dueOn: release.dueOn,
            overdueFrom: release.overdueFrom,
          },
        ]
      : []
  return [...paint, ...cover]
}

function forcing(input: CareInput): readonly CareTask[] {
  if (!restsUntilSpring(input)) return []
  const dueOn = nextFirstOf(3, input.madeOn, input.hemisphere)
  return [
    {
      ...careTasks.forceBud,
      id: 'force-bud',
      openFrom: dueOn,
      dueOn,
      overdueFrom: addDays(dueOn, weeks(6)),
    },
  ]
}

function labels({ madeOn, hemisphere }: CareInput): readonly CareTask[] {
  const leafFall = leafFallAfter(madeOn, hemisphere)
  return [
    { ...careTasks.label, id: 'label', openFrom: madeOn, dueOn: madeOn, overdueFrom: addDays(madeOn, 1) },
    {
      ...careTasks.moveLabel,
      id: 'move-label',
      openFrom: leafFall,
      dueOn: leafFall,
      overdueFrom: addDays(leafFall, weeks(8)),
    },
  ]
}

/**
 * What a piece asks of its grower, by day: label and map on day one; for grafts the ties looked at after 8 weeks
 * and released or put off by 10, shoots below the union rubbed off every 3 weeks of the first season, bared bark
 * kept from the sun, an approach graft weaned from 8 weeks and cut free by 13. Each task says what it leans on, and
 * what others advise. Empty when nothing is alive.
 */
export function careSchedule(input: CareInput): readonly CareTask[] {
  if (!input.isAnyAlive) return []
  const method: Method = required(findMethod(input.method), `method ${input.method}`)
  const tasks =
    method.kind === 'graft'
      ? [
          ...labels(input),
          ...rubbing(input),
          ...tieTasks(input),
          ...barkTasks(input),
          ...approachTasks(input),
          ...forcing(input),
        ]
      : labels(input)
  return tasks.toSorted((a, b) => (a.dueOn < b.dueOn ? -1 : a.dueOn > b.dueOn ? 1 : 0))
}

/** What its grower has said about a task. */
export interface CareAnswer {
  readonly state: 'done' | 'not-needed' | 'deferred'
  /** Until when it was put off; null unless deferred. */
  readonly until: CivilDate | null
}

export type CareState = 'settled' | 'coming' | 'open' | 'overdue' | 'overdue-strong'

/** How a task stands on a day. One that was put off comes back on its new day, and is overdue a week after it. */
export function careStateOf(task: CareTask, answer: CareAnswer | null, today: CivilDate): CareState {
  if (answer?.state === 'done' || answer?.state === 'not-needed') return 'settled'
  const deferred = answer?.state === 'deferred' ? answer.until : null
  const openFrom = deferred ?? task.openFrom
  const overdueFrom = deferred ? addDays(deferred, weeks(1)) : task.overdueFrom
  if (today < openFrom) return 'coming'
  if (today < overdueFrom) return 'open'
  return task.isStrongWhenOverdue ? 'overdue-strong' : 'overdue'
}
