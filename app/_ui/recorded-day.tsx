import { recordedDay } from '#app/_ui/dates.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

interface RecordedDayProps {
  readonly date: CivilDate
  /** Leaves the year out within the same season. */
  readonly today?: CivilDate
}

/** A recorded day in words, with the day itself for machines. */
export function RecordedDay({ date, today }: RecordedDayProps) {
  return <time dateTime={date}>{recordedDay(date, today)}</time>
}
