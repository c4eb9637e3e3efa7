import { useId } from 'react'
import { percent } from '#app/_ui/chart-scale.ts'

interface AgeSpan {
  /** Days from cutting to grafting, both inclusive. */
  readonly from: number
  readonly to: number
  readonly took: number
  readonly known: number
  /** The 95 % interval of the plain share, as fractions. */
  readonly low: number
  readonly high: number
}

interface AgePoint {
  readonly day: number
  readonly estimate: number
  readonly low: number
  readonly high: number
  /** From here on too few grafts lie behind the curve: it is dotted. */
  readonly thin?: boolean
}

interface AgeCurveProps {
  readonly spans: readonly AgeSpan[]
  readonly curve: readonly AgePoint[]
  readonly tookDays: readonly number[]
  readonly failedDays: readonly number[]
  readonly title?: string
  readonly id?: string
}

const plotHeight = 250
const top = 50
const bottom = top + plotHeight

const yOf = (share: number) => top + plotHeight * (1 - share)

/** The share of grafts that took by the age of the wood: curve with band, spans with intervals, each graft a tick. */
export function AgeCurve({
  spans,
  curve,
  tookDays,
  failedDays,
  title = 'Share of grafts that took, by days from cutting to grafting',
  id,
}: AgeCurveProps) {
  const generated = useId()
  const base = id ?? generated
  const lastDay = Math.max(14, ...spans.map((span) => span.to), ...curve.map((point) => point.day))
  const said = spans
    .map((span) => `${span.from} to ${span.to} days: ${span.took} of ${span.known}.`)
    .join(' ')
  const at = (day: number) => percent((day / lastDay) * 100)
  return (
    <figure className="fig">
      <svg role="img" aria-labelledby={`${base}t ${base}d`} width="100%" height={bottom + 74}>
        <title id={`${base}t`}>{title}</title>
        <desc id={`${base}d`}>{said}</desc>
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of drawings takes no focus */}
        <g aria-hidden="true">
          {[0, 0.25, 0.5, 0.75, 1].map((share) => (
            <line key={share} className="grid" x1="0" x2="100%" y1={yOf(share)} y2={yOf(share)} />
          ))}
          <Curve curve={curve} lastDay={lastDay} />
          {[25, 50, 75, 100].map((share) => (
            <text key={share} className="t-s t-soft" x="0" y={yOf(share / 100) - 4}>
              {share}
              {share === 100 && ' %'}
            </text>
          ))}
          {spans
            .filter((span) => span.known > 0)
            .map((span) => (
              <Span key={span.from} span={span} x={at((span.from + span.to) / 2)} />
            ))}
          <Ticks days={tookDays} at={at} y={top - 22} up />
          <Ticks days={failedDays} at={at} y={bottom + 4} />
          <text className="t-s wide-only" textAnchor="end" x="100%" y={top - 16}>
            each tick: one that took
          </text>
          <text className="t-s wide-only" textAnchor="end" x="100%" y={bottom + 16}>
            one that failed
          </text>
          <DayAxis lastDay={lastDay} at={at} />
        </g>
      </svg>
    </figure>
  )
}

function Curve({ curve, lastDay }: { readonly curve: readonly AgePoint[]; readonly lastDay: number }) {
  const x = (point: AgePoint) => ((point.day / lastDay) * 1000).toFixed(1)
  const y = (share: number) => (plotHeight * (1 - share)).toFixed(1)
  const line = (points: readonly AgePoint[]) => `M${points.map((p) => `${x(p)} ${y(p.estimate)}`).join('L')}`
  const band = [
    ...curve.map((p) => `${x(p)} ${y(p.high)}`),
    ...[...curve].reverse().map((p) => `${x(p)} ${y(p.low)}`),
  ]
  const firstThin = curve.findIndex((point) => point.thin)
  const solid = firstThin === -1 ? curve : curve.slice(0, firstThin + 1)
  const thin = firstThin === -1 ? [] : curve.slice(firstThin)
  if (curve.length < 2) return null
  return (
    <svg
      aria-hidden="true"
      x="0"
      y={top}
      width="100%"
      height={plotHeight}
      viewBox={`0 0 1000 ${plotHeight}`}
      preserveAspectRatio="none"
    >
      <path className="band" d={`M${band.join('L')}z`} />
      {solid.length > 1 && <path className="curve" d={line(solid)} />}
      {thin.length > 1 && <path className="curve thin" d={line(thin)} />}
    </svg>
  )
}

function Span({ span, x }: { readonly span: AgeSpan; readonly x: string }) {
  return (
    <>
      <line className="ci" x1={x} x2={x} y1={yOf(span.low)} y2={yOf(span.high)} />
      <circle className="raw" cx={x} cy={yOf(span.took / span.known)} r="5" />
      <text className="t-s" textAnchor="middle" x={x} y={bottom + 58}>
        {span.known}
      </text>
    </>
  )
}

interface TicksProps {
  readonly days: readonly number[]
  readonly at: (day: number) => string
  readonly y: number
  readonly up?: boolean
}

const mostTicks = 7

// One tick a graft, stacked; a day with more than fits shows as a full stack.
function Ticks({ days, at, y, up = false }: TicksProps) {
  const direction = up ? -1 : 1
  const seen = new Map<number, number>()
  const ticks = days.map((day) => {
    const place = seen.get(day) ?? 0
    seen.set(day, place + 1)
    return { day, place }
  })
  return ticks
    .filter((tick) => tick.place < mostTicks)
    .map(({ day, place }) => (
      <line
        key={`${day} ${place}`}
        className="rug"
        x1={at(day)}
        x2={at(day)}
        y1={y + direction * place * 4}
        y2={y + direction * (place * 4 + 3)}
      />
    ))
}

function DayAxis({ lastDay, at }: { readonly lastDay: number; readonly at: (day: number) => string }) {
  const step = lastDay <= 140 ? 14 : 28
  const marks = Array.from({ length: Math.floor((lastDay * 0.92) / step) + 1 }, (_, i) => i * step)
  return (
    <>
      <line className="axis" x1="0" x2="100%" y1={bottom} y2={bottom} />
      {marks.map((day, i) => (
        <text
          key={day}
          className={i % 2 === 1 ? 't-s t-soft wide-only' : 't-s t-soft'}
          textAnchor={day === 0 ? 'start' : 'middle'}
          x={at(day)}
          y={bottom + 38}
        >
          {day === 0 ? 'cut' : day}
        </text>
      ))}
      <text className="t-s t-soft" textAnchor="end" x="100%" y={bottom + 38}>
        days
      </text>
    </>
  )
}
