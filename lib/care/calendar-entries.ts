import { batchName } from '#lib/attempts/batch-name.ts'
import { hemisphereOf } from '#lib/attempts/hemisphere.ts'
import { looksOf } from '#lib/attempts/next-look.ts'
import { basisWords } from '#lib/care/basis-words.ts'
import { type CareRow, careBatch, isAnyAlive } from '#lib/care/queries.ts'
import type { CareView } from '#lib/care/view.ts'
import type { CalendarEntry } from '#lib/formats/calendar/calendar-text.ts'
import { checkpointQuestions, checkpointsOf } from '#lib/grafting/checkpoints.ts'
import { findMethod } from '#lib/grafting/methods.ts'
import { type CivilDate, civilDateOf } from '#lib/kernel/civil-date.ts'

export interface CalendarContext {
  readonly timeZone: string
  readonly today: CivilDate
  /** Where this installation answers, without a slash at the end. */
  readonly baseUrl: string
  readonly slug: string
}

type Same = Pick<CalendarEntry, 'changedAt' | 'url'>

const batchWords = (row: CareRow): string =>
  batchName({
    pieces: row.pieces,
    varietyName: row.variety.name,
    stock: row.stock,
    hostTreeCode: row.hostTree?.code ?? null,
  })

/** Counts what was ever said of a batch, so that it only grows. */
const changesOf = (row: CareRow): number => row.checks.length + (row.withdrawnAt === null ? 0 : 1)

const changedAt = (row: CareRow): Date =>
  [
    row.createdAt,
    row.withdrawnAt,
    ...row.checks.map((check) => check.recordedAt),
    ...row.careAnswers.map((said) => said.recordedAt),
  ].reduce<Date>((latest, at) => (at !== null && at > latest ? at : latest), row.createdAt)

function describe(view: Pick<CareView, 'task' | 'answer'>): string {
  const { task, answer } = view
  return [
    task.words,
    basisWords(task.basis),
    ...task.otherAdvice.map(({ says, basis }) => `Others say: ${says} ${basisWords(basis)}`),
    ...(answer?.answer === 'deferred' && answer.reason ? [`Put off: ${answer.reason}`] : []),
  ].join('\n')
}

function careEntries(row: CareRow, context: CalendarContext, same: Same): readonly CalendarEntry[] {
  const isLiving = row.withdrawnAt === null && isAnyAlive(row)
  // What nobody asks for any more is still told, as cancelled, to calendars that have it.
  const asIfAlive = isLiving ? row : { ...row, withdrawnAt: null, checks: [] }
  const { care } = careBatch(asIfAlive, context.timeZone, context.today)
  return care.map(({ task, answer, dueOn }) => {
    const said = row.careAnswers.filter((given) => given.task === task.id).length
    const isDone = answer?.answer === 'done'
    return {
      ...same,
      uid: `${row.id}.care.${task.id}@tallywood`,
      sequence: said + changesOf(row),
      on: dueOn,
      title: `${isDone ? 'Done: ' : ''}${task.title}: ${batchWords(row)}`,
      words: describe({ task, answer }),
      isCancelled: !isDone && (!isLiving || answer?.answer === 'not_needed'),
    }
  })
}

function lookEntries(row: CareRow, context: CalendarContext, same: Same): readonly CalendarEntry[] {
  const method = findMethod(row.method)
  if (!method) return []
  const madeOn = civilDateOf(row.madeOn)
  const hemisphere = hemisphereOf(context.timeZone)
  const looks = looksOf(
    {
      method: row.method,
      madeOn,
      hemisphere,
      looks: row.checks
        .filter((check) => check.supersededBy === null)
        .map(({ checkedOn, checkpoint, state }) => ({ on: civilDateOf(checkedOn), checkpoint, state })),
      isAnyAlive: isAnyAlive(row),
    },
    context.today,
  )
  return checkpointsOf(method.key, madeOn, hemisphere).map(({ key, dueOn }) => {
    const look = row.withdrawnAt === null ? looks.find(({ name }) => name === key) : undefined
    const on = look?.on ?? dueOn
    // A look that comes again after years moves by itself.
    const moved = Number(on.slice(0, 4)) - Number(dueOn.slice(0, 4))
    return {
      ...same,
      uid: `${row.id}.look.${key}@tallywood`,
      sequence: changesOf(row) + moved,
      on,
      title: `${look?.state === 'done' ? 'Seen: ' : 'Look: '}${batchWords(row)}`,
      words: checkpointQuestions[key],
      isCancelled: look === undefined,
    }
  })
}

/** What somebody's calendar says of a batch: its care and its looks, also what has been called off. */
export function calendarEntries(row: CareRow, context: CalendarContext): readonly CalendarEntry[] {
  const url = `${context.baseUrl}/g/${context.slug}/grafts/${row.id}`
  const same = { changedAt: changedAt(row), url }
  return [...careEntries(row, context, same), ...lookEntries(row, context, same)]
}
