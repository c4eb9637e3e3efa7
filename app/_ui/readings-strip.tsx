import { percent } from '#app/_ui/chart-scale.ts'
import { type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

/** The lowest and the highest of what was read on a day, °C. */
export interface RibbonReading {
  readonly day: CivilDate
  readonly lowest: number
  readonly highest: number
}

export const stripHeight = 52

const barTop = 12
const barSpace = 34

const extremes = (readings: readonly RibbonReading[]) => ({
  low: readings.reduce((low, { lowest }) => Math.min(low, lowest), Infinity),
  high: readings.reduce((high, { highest }) => Math.max(high, highest), -Infinity),
})

/** The readings in a sentence, for those who hear the chart. */
export function describeReadings(readings: readonly RibbonReading[], unit: TemperatureUnit): string {
  const { low, high } = extremes(readings)
  const days = readings.length === 1 ? 'one day' : `${readings.length} days`
  return `Read on ${days}: ${temperature(low, unit)} at the lowest, ${temperature(high, unit)} at the highest.`
}

interface ReadingsStripProps {
  readonly readings: readonly RibbonReading[]
  readonly unit: TemperatureUnit
  readonly scale: (date: CivilDate) => number
  readonly y: number
}

/** What was read on each day, from its lowest to its highest, on the axis of the ribbon. */
export function ReadingsStrip({ readings, unit, scale, y }: ReadingsStripProps) {
  const { low, high } = extremes(readings)
  const span = Math.max(1, high - low)
  const at = (celsius: number) => y + barTop + ((high - celsius) / span) * barSpace
  return (
    <>
      {readings.map(({ day, lowest, highest }) => {
        const x = scale(day)
        if (x < 0 || x > 100) return null
        return (
          <rect
            key={day}
            className="kept-logger"
            x={percent(x)}
            y={at(highest) - 1.5}
            width="3"
            height={at(lowest) - at(highest) + 3}
          />
        )
      })}
      <text className="t-s t-soft" textAnchor="end" x="100%" y={y + barTop}>
        {temperature(high, unit)}
      </text>
      <text className="t-s t-soft" textAnchor="end" x="100%" y={y + barTop + barSpace}>
        {low === high ? '' : temperature(low, unit)}
      </text>
    </>
  )
}
