import type { Actor } from '#lib/access/actor.ts'
import type { LoggerFile } from '#lib/formats/csv/read-logger.ts'
import { gapsBetween, type ReadingGap } from '#lib/formats/csv/reckon-readings.ts'
import type { RowFault } from '#lib/formats/csv/row-reader.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { longestBridgeMs } from '#lib/viability/storage-history.ts'
import { type ChartHour, chartHours } from '#lib/wood/chart-hours.ts'
import { type DraftName, draftedReadings } from '#lib/wood/drafted-readings.ts'
import type { ImportAnswers } from '#lib/wood/import-input.ts'
import type { ImportRefusal } from '#lib/wood/import-refusals.ts'

/** What an import would do, to be looked at first. */
export interface ReadingsPreview {
  readonly fileName: string
  readonly rows: number
  /** Readings that an import writes. */
  readonly fresh: number
  readonly already: number
  readonly repeated: number
  /** Times that the clock showed twice, told apart by the order of the rows. */
  readonly doubled: number
  readonly faults: readonly RowFault[]
  readonly gaps: readonly ReadingGap[]
  /** Of all readable rows; null when there is none. */
  readonly span: {
    readonly from: Date
    readonly to: Date
    readonly lowest: number
    readonly median: number
    readonly highest: number
  } | null
  readonly hours: readonly ChartHour[]
  readonly readAs: Pick<LoggerFile, 'timeHeading' | 'temperatureHeading' | 'unit' | 'days'>
  readonly mark: string
}

function spanOf({ readings }: LoggerFile): ReadingsPreview['span'] {
  const [first, last] = [readings[0], readings.at(-1)]
  if (!first || !last) return null
  const values = readings.map(({ celsius }) => celsius).sort((a, b) => a - b)
  const middle = Math.floor(values.length / 2)
  const [below = 0, above = 0] = [values[values.length % 2 === 0 ? middle - 1 : middle], values[middle]]
  return {
    from: first.at,
    to: last.at,
    lowest: values[0] ?? 0,
    median: (below + above) / 2,
    highest: values.at(-1) ?? 0,
  }
}

/** What a waiting file holds and what its import would write; nothing is changed. */
export async function previewReadings(
  db: Database,
  actor: Actor,
  draft: DraftName,
  answers: ImportAnswers,
): Promise<Result<ReadingsPreview, ImportRefusal>> {
  if (!isUuid(draft.draftId) || !isUuid(draft.storeId)) return refuse({ kind: 'draft-gone' })
  const drafted = await draftedReadings(db.prisma, db, actor, draft, answers)
  if (!drafted.ok) return drafted
  const { fileName, file, fresh, already, faults, mark } = drafted.value
  const { rows, repeated, doubled, timeHeading, temperatureHeading, unit, days } = file
  return ok({
    fileName,
    rows,
    fresh: fresh.length,
    already,
    repeated,
    doubled,
    faults,
    gaps: gapsBetween(file.readings, longestBridgeMs),
    span: spanOf(file),
    hours: chartHours(file.readings, true),
    readAs: { timeHeading, temperatureHeading, unit, days },
    mark,
  })
}
