import { counted } from '#app/_ui/measures.ts'
import type { Limits } from '#lib/swaps/view.ts'

/** "You hold 2 of 10 shares (4 sticks), over 2 lots." */
export function LimitsLine({ limits, who = 'You hold' }: { readonly limits: Limits; readonly who?: string }) {
  if (limits.held === 0) {
    return (
      <p>
        <b>
          {who} none of {counted(limits.cap, 'share')} yet.
        </b>{' '}
        Limit: {counted(limits.capPerVariety, 'share')} of any variety.
      </p>
    )
  }
  return (
    <p>
      <b>
        {who} {limits.held} of {counted(limits.cap, 'share')}
      </b>
      , {counted(limits.sticks, 'stick')} over {counted(limits.lots, 'lot')}. Limit:{' '}
      {counted(limits.capPerVariety, 'share')} of any variety.
    </p>
  )
}

/** How claims are counted, for whoever asks. */
export function HowLimitsWork({ limits }: { readonly limits: Limits }) {
  return (
    <details>
      <summary>How the limits work</summary>
      <ul>
        <li>A share is the number of sticks given as one unit; each lot says how many that is.</li>
        <li>
          Each member may hold {counted(limits.cap, 'share')} in this swap, and{' '}
          {counted(limits.capPerVariety, 'share')} of one variety, over all its lots.
        </li>
        <li>First come: who claims first has it, to the stick. Two people cannot claim the same one.</li>
        <li>
          What you give back counts no longer: it goes to whoever waits for it, or is free for others at once.
        </li>
      </ul>
    </details>
  )
}
