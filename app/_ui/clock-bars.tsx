import { spokenShare } from '#app/_ui/measures.ts'
import type { LimitingClock } from '#lib/viability/viability-window.ts'

interface ClockBarsProps {
  /** How much of each clock has run down, 0 to 1. */
  readonly clocks: readonly { readonly clock: LimitingClock; readonly share: number }[]
  readonly limitedBy: LimitingClock
}

const names: Record<LimitingClock, string> = {
  reserve: 'Food reserve',
  'bud-break': 'Bud break',
  water: 'Drying out',
  freeze: 'Frost',
  chilling: 'Harm from cold',
}

/** What is running down, in rough shares; the clock that sets the limit is bold. */
export function ClockBars({ clocks, limitedBy }: ClockBarsProps) {
  return (
    <ul className="clocks">
      {clocks.map(({ clock, share }) => (
        <li key={clock} className={clock === limitedBy ? 'clock limit' : 'clock'}>
          <span>
            {names[clock]}
            {clock === limitedBy && <span className="vh">, sets the limit</span>}
          </span>
          <span className="bar" aria-hidden="true">
            <i style={{ width: `${Math.round(Math.min(1, Math.max(0, share)) * 100)}%` }} />
          </span>
          <span>{spokenShare(share)}</span>
        </li>
      ))}
    </ul>
  )
}
