import Link from 'next/link'
import { instantWords } from '#app/_ui/dates.ts'
import { counted, type TemperatureUnit, temperatureRange } from '#app/_ui/measures.ts'
import { storeHref } from '#app/g/[group]/wood/stores/_parts/store-links.ts'
import type { StoreView } from '#lib/wood/store-queries.ts'
import type { ImportView } from '#lib/wood/store-readings.ts'

interface ImportListProps {
  readonly slug: string
  readonly store: StoreView
  readonly imports: readonly ImportView[]
  readonly unit: TemperatureUnit
}

/** The files that readings came in, and those that were taken back. */
export function ImportList({ slug, store, imports, unit }: ImportListProps) {
  const at = (instant: Date) => instantWords(instant, store.timeZone, store.today)
  return (
    <ul className="rows">
      {imports.map((one) => (
        <li key={one.importId} className="flex flex-wrap items-baseline justify-between gap-x-4">
          <span>
            <b className="break-all">{one.fileName}</b>: {counted(one.readings, 'reading')}
            <br />
            <span className="note">
              {at(one.from)} to {at(one.to)}, {temperatureRange(one.lowest, one.highest, unit)}. Imported{' '}
              {at(one.importedAt)} by {one.importedBy}.
              {one.takenBack && (
                <>
                  {' '}
                  <b>Taken back</b> {at(one.takenBack.at)} by {one.takenBack.by}: {one.takenBack.reason}
                </>
              )}
            </span>
          </span>
          {store.mayKeep && !one.takenBack && (
            <Link
              href={`${storeHref(slug, store.storeId)}/imports/${one.importId}`}
              prefetch={false}
              className="tap"
            >
              Take back<span className="vh"> {one.fileName}</span>
            </Link>
          )}
        </li>
      ))}
    </ul>
  )
}
