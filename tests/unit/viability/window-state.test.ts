import { describe, expect, it } from 'vitest'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import { windowState } from '#lib/viability/window-state.ts'
import { afterDays, stint, windowOf } from '#tests/unit/viability/stints.ts'

describe('where a day stands in a window', () => {
  // Apple at 0 °C: 108, 180 and 288 days.
  const window = windowOf(storageProfiles.apple, [stint(0, null, 0)])
  const limits = { early: window.early.at, likely: window.likely.at, late: window.late.at }
  const stateAfter = (days: number) => windowState(limits, afterDays(days))

  it('is good until the early limit, then to be used soon, then to be tested, then past', () => {
    expect([0, 107, 109, 179, 181, 287, 289, 4000].map(stateAfter)).toEqual([
      'good',
      'good',
      'soon',
      'soon',
      'test',
      'test',
      'past',
      'past',
    ])
  })

  it('counts a limit itself to what follows', () => {
    const { early, likely, late } = limits
    expect([early, likely, late].map((at) => windowState(limits, at))).toEqual(['soon', 'test', 'past'])
  })
})
