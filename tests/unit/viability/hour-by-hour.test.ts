import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Packaging, waterLossPerDayAndKpa } from '#lib/viability/packaging.ts'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import { naiveAfter, naiveEnd } from '#tests/unit/viability/naive-window.ts'
import { afterDays, cutAt, stint, windowOf } from '#tests/unit/viability/stints.ts'

const profiles = fc.constantFrom(...Object.values(storageProfiles))
const packagings = fc.constantFrom(...(Object.keys(waterLossPerDayAndKpa) as Packaging[]))
/** Whole and broken degrees, and often those of a fridge. */
const temperatures = fc.oneof(
  fc.integer({ min: -15, max: 30 }),
  fc.integer({ min: 0, max: 8 }),
  fc.double({ min: -20, max: 35, noNaN: true }),
)
const stays = fc.array(fc.record({ hours: fc.integer({ min: 1, max: 1500 }), celsius: temperatures }), {
  minLength: 1,
  maxLength: 6,
})

interface Stay {
  readonly hours: number
  readonly celsius: number
}

/** The temperature of an hour; the last stay goes on. */
const celsiusOf = (history: readonly Stay[]) => {
  const hourly = history.flatMap(({ hours, celsius }) => Array<number>(hours).fill(celsius))
  return (hour: number) => hourly[hour] ?? hourly.at(-1) ?? Number.NaN
}

const stintsOf = (history: readonly Stay[]) => {
  let hour = 0
  return history.map(({ hours, celsius }, i) => {
    const from = hour / 24
    hour += hours
    return stint(from, i === history.length - 1 ? null : hour / 24, celsius)
  })
}

describe('the window against the model hour after hour', () => {
  for (const run of ['early', 'likely', 'late'] as const) {
    it(`ends the ${run} run within the very hour, by a clock that ran down in it`, () => {
      fc.assert(
        fc.property(profiles, packagings, stays, (profile, packaging, history) => {
          const { at, limitedBy } = windowOf(profile, stintsOf(history), { packaging })[run]
          const expected = naiveEnd({ profile, packaging }, run, celsiusOf(history))
          const hours = (at.getTime() - cutAt.getTime()) / 3_600_000
          expect(Math.ceil(hours - 1e-5)).toBe(expected.hours)
          expect(expected.runDown).toContain(limitedBy)
        }),
        { numRuns: 150 },
      )
    })
  }

  it('has used as much of each clock on any day', () => {
    fc.assert(
      fc.property(
        profiles,
        packagings,
        stays,
        fc.integer({ min: 0, max: 5000 }),
        (profile, packaging, history, hours) => {
          const { used } = windowOf(profile, stintsOf(history), { packaging, asOf: afterDays(hours / 24) })
          const expected = naiveAfter({ profile, packaging }, 'likely', celsiusOf(history), hours)
          expect(used.reserve).toBeCloseTo(expected.reserve, 9)
          expect(used.budBreak).toBeCloseTo(expected['bud-break'], 9)
          expect(used.water).toBeCloseTo(expected.water, 9)
        },
      ),
    )
  })

  it('agrees for buds that had begun to swell when they were cut', () => {
    const history = [{ hours: 4000, celsius: 4 }]
    for (const [budStage, progress] of [
      [1, 0.6],
      [3, 0.8],
    ] as const) {
      for (const run of ['early', 'likely', 'late'] as const) {
        const { at } = windowOf(storageProfiles.pear, stintsOf(history), { budStage })[run]
        const expected = naiveEnd({ profile: storageProfiles.pear, progress }, run, celsiusOf(history))
        expect(Math.ceil((at.getTime() - cutAt.getTime()) / 3_600_000 - 1e-5)).toBe(expected.hours)
      }
    }
  })
})
