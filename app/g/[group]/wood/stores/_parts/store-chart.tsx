import { type TemperatureUnit, temperature, temperatureRange } from '#app/_ui/measures.ts'
import { ReadingsChart } from '#app/_ui/readings-chart.tsx'
import { StorageSwatch } from '#app/_ui/ribbon.tsx'
import { storeHref } from '#app/g/[group]/wood/stores/_parts/store-links.ts'
import type { StoreView } from '#lib/wood/store-queries.ts'
import type { StoreReadingsView } from '#lib/wood/store-readings.ts'

interface StoreChartProps {
  readonly slug: string
  readonly store: StoreView
  readonly read: StoreReadingsView
  readonly unit: TemperatureUnit
}

/** The last half year of a store's readings, what the marks mean, and all readings to take away. */
export function StoreChart({ slug, store, read, unit }: StoreChartProps) {
  if (read.hours.length === 0) return null
  const { celsius, isNoted } = read.unread
  return (
    <div className="stack">
      <ReadingsChart
        hours={read.hours}
        unit={unit}
        timeZone={store.timeZone}
        unread={read.unread}
        title={`Temperature in ${store.name}`}
        id="store-chart"
      />
      <p className="note">
        The line is the mean, the band around it runs from the lowest to the highest; a ring is a single
        reading. Below: <StorageSwatch basis="logger" /> logger, <StorageSwatch basis="typed" /> read by
        somebody, <StorageSwatch basis="assumed" /> nothing for more than six hours. Where nothing was read,{' '}
        {isNoted
          ? `the noted ${temperature(celsius.low, unit)} is reckoned with.`
          : `${temperatureRange(celsius.low, celsius.high, unit)} is assumed.`}
      </p>
      <p>
        <a href={`${storeHref(slug, store.storeId)}/csv`} download>
          All {read.count} readings as a CSV file
        </a>
      </p>
    </div>
  )
}
