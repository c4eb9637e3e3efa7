import { clampPercent, percent } from '#app/_ui/chart-scale.ts'

/** A difference in percentage points, with a true minus: "+12", "−8", "0". */
export function points(fraction: number): string {
  const value = Math.round(fraction * 100)
  if (value === 0) return '0'
  return value > 0 ? `+${value}` : `−${-value}`
}

interface DifferenceBarProps {
  /** Fractions, positive to the right. */
  readonly difference: number
  readonly low: number
  readonly high: number
  /** One stratum, like with like over all of them, or the lumped figure that misleads. */
  readonly kind?: 'stratum' | 'summary' | 'lumped'
  /** Half the width of the axis. */
  readonly limit?: number
  readonly height?: number
}

/** A difference between two ways, on an axis with nought in the middle. */
export function DifferenceBar({
  difference,
  low,
  high,
  kind = 'stratum',
  limit = 0.6,
  height = 34,
}: DifferenceBarProps) {
  const at = (value: number) => clampPercent(((value + limit) / (2 * limit)) * 100)
  const y = height / 2
  const label = `${points(difference)} points, likely between ${points(low)} and ${points(high)}`
  return (
    <svg className="mini" role="img" aria-label={label} width="100%" height={height}>
      {[-0.5, -0.25, 0.25, 0.5]
        .filter((mark) => Math.abs(mark) < limit)
        .map((mark) => (
          <line
            key={mark}
            className="grid"
            x1={percent(at(mark))}
            x2={percent(at(mark))}
            y1="0"
            y2={height}
          />
        ))}
      <line className="axis nought" x1="50%" x2="50%" y1="0" y2={height} />
      {kind === 'summary' ? (
        <SolidBar from={at(low)} to={at(high)} estimate={at(difference)} y={y} />
      ) : (
        <>
          <line
            className={kind === 'lumped' ? 'ghost' : 'ci'}
            strokeDasharray={kind === 'lumped' ? '4 3' : undefined}
            x1={percent(at(low))}
            x2={percent(at(high))}
            y1={y}
            y2={y}
          />
          <circle className={kind === 'lumped' ? 'raw' : 'dot'} cx={percent(at(difference))} cy={y} r="5.5" />
        </>
      )}
    </svg>
  )
}

interface SolidBarProps {
  readonly from: number
  readonly to: number
  readonly estimate: number
  readonly y: number
}

function SolidBar({ from, to, estimate, y }: SolidBarProps) {
  return (
    <>
      <rect className="dot" x={percent(from)} y={y - 7} width={percent(to - from)} height="14" />
      <svg aria-hidden="true" x={percent(to)} y={y - 7} overflow="visible">
        <path className="dot" d="M-.5 0h7L-.5 14z" />
      </svg>
      <line className="nick" x1={percent(estimate)} x2={percent(estimate)} y1={y - 7} y2={y + 7} />
    </>
  )
}

interface DifferenceAxisProps {
  /** What the two sides speak for. */
  readonly favours: readonly [left: string, right: string]
  readonly limit?: number
}

/** The head of a column of differences. */
export function DifferenceAxis({ favours, limit = 0.6 }: DifferenceAxisProps) {
  const at = (value: number) => ((value + limit) / (2 * limit)) * 100
  return (
    <svg className="mini" aria-hidden="true" focusable="false" width="100%" height="40">
      <text className="t-s t-soft" x="0" y="11">
        {favours[0]}
      </text>
      <text className="t-s t-soft" textAnchor="end" x="100%" y="11">
        {favours[1]}
      </text>
      {[-0.5, -0.25, 0, 0.25, 0.5]
        .filter((mark) => Math.abs(mark) < limit)
        .map((mark) => (
          <g key={mark}>
            <line className="axis" x1={percent(at(mark))} x2={percent(at(mark))} y1="34" y2="40" />
            <text className="t-s t-soft" textAnchor="middle" x={percent(at(mark))} y="30">
              {points(mark)}
            </text>
          </g>
        ))}
    </svg>
  )
}
