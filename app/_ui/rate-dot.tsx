import { percent } from '#app/_ui/chart-scale.ts'
import { fewestKnownOutcomes, type OutcomeSummary } from '#lib/statistics/summarise-outcomes.ts'

/** Counts and what is made of them, as fractions. */
export interface Rate {
  readonly took: number
  readonly known: number
  readonly unknown: number
  /** The estimate that borrows strength from the others, with its 95 % interval; null where none was fitted. */
  readonly pooled: { readonly estimate: number; readonly low: number; readonly high: number } | null
  /** The 95 % interval of the plain count, drawn where nothing is pooled. */
  readonly interval?: { readonly low: number; readonly high: number } | null
}

/** The plain rate of a summary, nothing pooled. */
export const rateOf = (summary: OutcomeSummary): Rate => ({
  took: summary.alive,
  known: summary.known,
  unknown: summary.unknown,
  pooled: null,
  interval: summary.interval,
})

/** Whether a rate may be shown at all: fewer known outcomes say nothing, and might say whose they were. */
const isEnough = (rate: Rate): boolean => rate.known >= fewestKnownOutcomes

const whole = (fraction: number) => Math.round(fraction * 100)

const intervalOf = (rate: Rate) => rate.pooled ?? rate.interval ?? null

/** "70 to 90 %", "not enough yet", or "—" where there is no interval. */
export function rateWords(rate: Rate): string {
  if (!isEnough(rate)) return 'not enough yet'
  const interval = intervalOf(rate)
  return interval ? `${whole(interval.low)} to ${whole(interval.high)} %` : '—'
}

function describe(rate: Rate): string {
  if (!isEnough(rate)) return `Not enough yet: ${rate.known} of ${fewestKnownOutcomes} known outcomes.`
  const counts = `${rate.took} of ${rate.known} known took. ${rate.unknown} not known.`
  const estimate = rate.pooled ? `Estimate ${whole(rate.pooled.estimate)} %. ` : ''
  return intervalOf(rate) ? `${estimate}Likely between ${rateWords(rate)}. ${counts}` : counts
}

interface RateDotProps {
  readonly rate: Rate
  /** The group's average, as a fraction. */
  readonly mean?: number | null
  readonly height?: number
}

/** A rate on an axis from 0 to 100 %: estimate, interval, plain count, and what the unknown could make of it. */
export function RateDot({ rate, mean = null, height = 34 }: RateDotProps) {
  return (
    <svg className="mini" role="img" aria-label={describe(rate)} width="100%" height={height}>
      {[0, 25, 50, 75, 100].map((at) => (
        <line key={at} className="grid" x1={`${at}%`} x2={`${at}%`} y1="0" y2={height} />
      ))}
      {isEnough(rate) && rate.unknown > 0 && <UnknownRange rate={rate} y={height / 2} />}
      {mean !== null && (
        <line className="mean" x1={percent(mean * 100)} x2={percent(mean * 100)} y1="0" y2={height} />
      )}
      {isEnough(rate) ? <Estimate rate={rate} y={height / 2} /> : <Slots rate={rate} y={height / 2} />}
    </svg>
  )
}

interface PartProps {
  readonly rate: Rate
  readonly y: number
}

function UnknownRange({ rate, y }: PartProps) {
  const all = rate.known + rate.unknown
  const place = {
    x: percent((rate.took / all) * 100),
    y: y - 9,
    width: percent((rate.unknown / all) * 100),
    height: 18,
  }
  return (
    <>
      <rect fill="url(#p-unk)" {...place} />
      <rect className="unk-edge" {...place} />
    </>
  )
}

function Estimate({ rate, y }: PartProps) {
  const { pooled } = rate
  const interval = intervalOf(rate)
  return (
    <>
      {interval && <Interval low={interval.low} high={interval.high} y={y} />}
      <circle className="raw" cx={percent((rate.took / rate.known) * 100)} cy={y} r="4.5" />
      {pooled && <circle className="dot" cx={percent(pooled.estimate * 100)} cy={y} r="6" />}
    </>
  )
}

function Interval({ low, high, y }: { readonly low: number; readonly high: number; readonly y: number }) {
  const from = percent(low * 100)
  const to = percent(high * 100)
  return (
    <>
      <line className="ci" x1={from} x2={to} y1={y} y2={y} />
      <line className="ci" x1={from} x2={from} y1={y - 5} y2={y + 5} />
      <line className="ci" x1={to} x2={to} y1={y - 5} y2={y + 5} />
    </>
  )
}

// How many are known is shown; what became of them is not, as it could be read back to a person.
function Slots({ rate, y }: PartProps) {
  return (
    <svg aria-hidden="true" x="0" y={y - 8} overflow="visible">
      <rect x="-2" y="-4" width="232" height="24" className="plate" />
      {Array.from({ length: fewestKnownOutcomes }, (_, i) => (
        <rect
          // biome-ignore lint/suspicious/noArrayIndexKey: a slot is its place
          key={i}
          className={i < rate.known ? 'dot' : 'ghost'}
          x={i * 9 + 1}
          y="1"
          width="4"
          height="14"
        />
      ))}
      <text className="t-s t-soft" x="54" y="13">
        not enough yet, needs {fewestKnownOutcomes - rate.known} more
      </text>
    </svg>
  )
}

interface RateAxisProps {
  readonly mean?: number | null
  readonly meanLabel?: string
}

/** The head of a column of rates. */
export function RateAxis({ mean = null, meanLabel = 'group average' }: RateAxisProps) {
  const anchorAt = (at: number) => (at < 25 ? 'start' : at > 75 ? 'end' : 'middle')
  return (
    <svg className="mini" aria-hidden="true" focusable="false" width="100%" height="34">
      {[0, 25, 50, 75, 100].map((at) => (
        <g key={at}>
          <line className="axis" x1={`${at}%`} x2={`${at}%`} y1="28" y2="34" />
          <text className="t-s t-soft" textAnchor={anchorAt(at)} x={`${at}%`} y="24">
            {at}
            {at === 100 && ' %'}
          </text>
        </g>
      ))}
      {mean !== null && (
        <>
          <line className="mean" x1={percent(mean * 100)} x2={percent(mean * 100)} y1="12" y2="34" />
          <text className="t-s t-dam" textAnchor={anchorAt(mean * 100)} x={percent(mean * 100)} y="9">
            {meanLabel}
          </text>
        </>
      )}
    </svg>
  )
}

/** What the marks of a rate mean. */
export function RateKey() {
  return (
    <p className="key">
      <span>
        <svg width="16" height="14" aria-hidden="true" focusable="false">
          <circle className="dot" cx="8" cy="7" r="6" />
        </svg>
        our best estimate
      </span>
      <span>
        <svg width="44" height="14" aria-hidden="true" focusable="false">
          <line className="ci" x1="1" x2="43" y1="7" y2="7" />
          <line className="ci" x1="1" x2="1" y1="2" y2="12" />
          <line className="ci" x1="43" x2="43" y1="2" y2="12" />
        </svg>
        where the truth likely lies
      </span>
      <span>
        <svg width="16" height="14" aria-hidden="true" focusable="false">
          <circle className="raw" cx="8" cy="7" r="4.5" />
        </svg>
        plain count
      </span>
      <span>
        <svg width="44" height="18" aria-hidden="true" focusable="false">
          <rect fill="url(#p-unk)" width="44" height="18" />
          <rect className="unk-edge" x=".5" y=".5" width="43" height="17" />
        </svg>
        plain count if every unknown failed, or every one took
      </span>
    </p>
  )
}
