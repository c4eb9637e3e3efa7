import { useId } from 'react'
import { labelStep, monthsOn, narrowest, percent } from '#app/_ui/chart-scale.ts'
import { dayMonth, labelDay, monthName } from '#app/_ui/dates.ts'
import { counted, type TemperatureUnit, temperature, temperatureRange } from '#app/_ui/measures.ts'
import { ReadingWeeks } from '#app/_ui/reading-weeks.tsx'
import {
  type Band,
  degreeLines,
  extremesOf,
  type ReadingHour,
  type ReadingRun,
  rangeShown,
  readingRuns,
} from '#app/_ui/readings-layout.ts'
import { addDays, type CivilDate, civilDateIn, daysBetween, utcMidnight } from '#lib/kernel/civil-date.ts'

interface ReadingsChartProps {
  /** In the order of time; at least one. */
  readonly hours: readonly ReadingHour[]
  readonly unit: TemperatureUnit
  readonly timeZone: string
  /** What is reckoned with while nobody reads, and whether somebody noted it. */
  readonly unread?: { readonly celsius: Band; readonly isNoted: boolean } | null
  readonly title: string
  readonly id?: string
}

const top = 8
const plotHeight = 150
const laneTop = top + plotHeight + 12
const axis = laneTop + 20
const height = axis + 26
const hourMs = 3_600_000

/** The temperatures of a store over time: mean as a line, from lowest to highest as a band, gaps as gaps. */
export function ReadingsChart({ hours, unit, timeZone, unread = null, title, id }: ReadingsChartProps) {
  const generated = useId()
  const base = id ?? generated
  const [first, last] = [hours[0], hours.at(-1)]
  if (!first || !last) return null
  const runs = readingRuns(hours)
  const range = rangeShown(hours, unread?.celsius ?? null)
  const spanMs = Math.max(hourMs, last.hourMs - first.hourMs)
  const x = (ms: number) => ((ms - first.hourMs) / spanMs) * 100
  const y = (celsius: number) => top + ((range.high - celsius) / (range.high - range.low)) * plotHeight
  const scales = { x, y }
  return (
    <figure className="fig">
      <svg role="img" aria-labelledby={`${base}t ${base}d`} width="100%" height={height}>
        <title id={`${base}t`}>{title}</title>
        <desc id={`${base}d`}>{describe({ hours, runs, unit, timeZone, unread })}</desc>
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of drawings takes no focus */}
        <g aria-hidden="true">
          {unread && <AssumedBand unread={unread} y={y} />}
          <DegreeLines range={range} unit={unit} y={y} />
          <Runs runs={runs} {...scales} />
          {/* Words last: their halo keeps them readable over the line. */}
          <DegreeWords range={range} unit={unit} y={y} />
          {unread && <AssumedWords unread={unread} unit={unit} y={y} />}
          <Lane runs={runs} x={x} />
          <line className="axis" x1="0" x2="100%" y1={axis} y2={axis} />
          <Days
            from={civilDateIn(timeZone, new Date(first.hourMs))}
            to={civilDateIn(timeZone, new Date(last.hourMs))}
          />
        </g>
      </svg>
      <ReadingWeeks hours={hours} unit={unit} timeZone={timeZone} title={title} />
    </figure>
  )
}

const assumedWords = (
  { celsius, isNoted }: NonNullable<ReadingsChartProps['unread']>,
  unit: TemperatureUnit,
): string =>
  isNoted
    ? `noted as usual: ${temperature(celsius.low, unit)}`
    : `assumed while unread: ${temperatureRange(celsius.low, celsius.high, unit)}`

interface Described extends Pick<ReadingsChartProps, 'hours' | 'unit' | 'timeZone' | 'unread'> {
  readonly runs: readonly ReadingRun[]
}

function describe({ hours, runs, unit, timeZone, unread }: Described): string {
  const day = (ms: number | undefined) => labelDay(civilDateIn(timeZone, new Date(ms ?? 0)))
  const { low, high } = extremesOf(hours)
  const gaps = runs.length - 1
  return [
    `Read from ${day(hours[0]?.hourMs)} to ${day(hours.at(-1)?.hourMs)}.`,
    `${temperature(low, unit)} at the lowest, ${temperature(high, unit)} at the highest.`,
    low <= 0 ? 'It went down to freezing.' : 'It never froze.',
    gaps === 0 ? 'No gap of more than six hours.' : `${counted(gaps, 'gap')} of more than six hours.`,
    unread ? `${assumedWords(unread, unit)}.` : '',
    'The table below says the same by week.',
  ]
    .filter(Boolean)
    .join(' ')
}

type Scale = (value: number) => number

interface AssumedProps {
  readonly unread: NonNullable<ReadingsChartProps['unread']>
  readonly y: Scale
}

function AssumedBand({ unread: { celsius }, y }: AssumedProps) {
  const { low, high } = celsius
  return high > low ? (
    <rect className="band" x="0" width="100%" y={y(high)} height={y(low) - y(high)} />
  ) : (
    <line className="past" x1="0" x2="100%" y1={y(high)} y2={y(high)} />
  )
}

function AssumedWords({ unread, unit, y }: AssumedProps & { readonly unit: TemperatureUnit }) {
  const above = y(unread.celsius.high) - 5
  return (
    <text
      className="t-s t-soft"
      textAnchor="end"
      x="100%"
      y={above < top + 8 ? y(unread.celsius.low) + 15 : above}
    >
      {assumedWords(unread, unit)}
    </text>
  )
}

interface DegreesProps {
  readonly range: Band
  readonly unit: TemperatureUnit
  readonly y: Scale
}

function DegreeLines({ range, unit, y }: DegreesProps) {
  return (
    <>
      {degreeLines(range, unit).map((celsius) => (
        <line key={celsius} className="grid" x1="0" x2="100%" y1={y(celsius)} y2={y(celsius)} />
      ))}
      <line className="mean" x1="0" x2="100%" y1={y(0)} y2={y(0)} />
    </>
  )
}

/** The degrees of the lines, but for those that would stand in the word for freezing. */
function DegreeWords({ range, unit, y }: DegreesProps) {
  const apart = degreeLines(range, unit).filter((celsius) => Math.abs(y(celsius) - y(0)) >= 15)
  return (
    <>
      {apart.map((celsius) => (
        <text key={celsius} className="t-s t-soft" x="0" y={y(celsius) - 4}>
          {temperature(celsius, unit)}
        </text>
      ))}
      <text className="t-s t-dam" x="0" y={y(0) - 4}>
        {temperature(0, unit)}, freezing
      </text>
    </>
  )
}

interface RunsProps {
  readonly runs: readonly ReadingRun[]
  readonly x: Scale
  readonly y: Scale
}

// The lines stretch with the page; their thickness does not.
function Runs({ runs, x, y }: RunsProps) {
  const at = (ms: number, celsius: number) => `${(x(ms) * 10).toFixed(1)} ${y(celsius).toFixed(1)}`
  const lines = runs.filter((run) => run.points.length > 1)
  const single = runs.filter((run) => run.points.length === 1)
  return (
    <>
      <svg
        aria-hidden="true"
        width="100%"
        height={height}
        viewBox={`0 0 1000 ${height}`}
        preserveAspectRatio="none"
      >
        {lines.map(({ fromMs, points }) => {
          const over = points.map((point) => at(point.hourMs, point.high))
          const under = points.map((point) => at(point.hourMs, point.low)).reverse()
          return (
            <g key={fromMs}>
              <path className="pt-as" d={`M${[...over, ...under].join('L')}Z`} />
              <path
                className="curve fine"
                d={`M${points.map((point) => at(point.hourMs, point.mean)).join('L')}`}
              />
            </g>
          )
        })}
      </svg>
      {single.map(({ fromMs, isLogged, points }) => (
        <circle
          key={fromMs}
          className={isLogged ? 'dot' : 'raw'}
          cx={percent(x(fromMs))}
          cy={y(points[0]?.mean ?? 0)}
          r="3.5"
        />
      ))}
    </>
  )
}

/** When it was read, by a logger or by somebody; hatched where more than six hours were not. */
function Lane({ runs, x }: Pick<RunsProps, 'runs' | 'x'>) {
  const whole = runs.length > 1
  return (
    <>
      {whole && <rect fill="url(#p-as)" x="0" width="100%" y={laneTop} height="10" />}
      {runs.map(({ fromMs, toMs, isLogged }) => {
        // A single reading is still to be seen.
        const from = Math.min(99.1, Math.max(0, x(fromMs) - 0.3))
        return (
          <rect
            key={fromMs}
            className={isLogged ? 'kept-logger' : 'kept-typed'}
            x={percent(from)}
            width={percent(Math.min(100 - from, Math.max(0.9, x(toMs) - from)))}
            y={laneTop}
            height="10"
          />
        )
      })}
    </>
  )
}

function Days({ from, to }: { readonly from: CivilDate; readonly to: CivilDate }) {
  const span = Math.max(1, daysBetween(from, to))
  const at = (day: CivilDate) =>
    ((utcMidnight(day).getTime() - utcMidnight(from).getTime()) / (span * 24 * hourMs)) * 100
  const isShort = span <= 45
  const step = [1, 2, 3, 7, 14].find((days) => (days / span) * narrowest >= 50) ?? 14
  const months = monthsOn(from, to)
  const every = labelStep(months.length, 34)
  const ticks = isShort
    ? Array.from({ length: Math.floor(span / step) + 1 }, (_, i) => addDays(from, i * step))
    : months.filter((_, i) => i % every === 0)
  return ticks.map((day) => (
    <g key={day}>
      <line className="axis" x1={percent(at(day))} x2={percent(at(day))} y1={axis} y2={axis + 6} />
      {at(day) <= 86 && (
        <text className="t-s t-soft" x={percent(at(day))} y={axis + 20} dx="1">
          {isShort ? dayMonth(day) : monthName(day)}
        </text>
      )}
    </g>
  ))
}
