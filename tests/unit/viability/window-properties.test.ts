import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Packaging, waterLossPerDayAndKpa } from '#lib/viability/packaging.ts'
import { type ScenarioName, scenarios } from '#lib/viability/scenarios.ts'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import { viabilityWindow } from '#lib/viability/viability-window.ts'
import { afterDays, daysFromCut, daysOf, steady, stint, windowOf } from '#tests/unit/viability/stints.ts'

const runs: readonly ScenarioName[] = ['early', 'likely', 'late']
const profiles = fc.constantFrom(...Object.values(storageProfiles))
const dormantProfiles = fc.constantFrom(
  ...Object.values(storageProfiles).filter(({ chillPortions }) => chillPortions !== null),
)
const packagings = fc.constantFrom(...(Object.keys(waterLossPerDayAndKpa) as Packaging[]))
const celsius = fc.double({ min: -20, max: 35, noNaN: true })
const range = fc.tuple(celsius, celsius, celsius).map((values) => {
  const [low = 0, mid = 0, high = 0] = values.toSorted((a, b) => a - b)
  return { low, mid, high }
})
const warmth = fc.double({ min: 0, max: 15, noNaN: true })
const days = fc.integer({ min: 0, max: 400 })
/** Stays of some hours, one after the other, some with a gap before them. */
const histories = fc
  .array(
    fc.record({ gap: fc.integer({ min: 0, max: 70 }), hours: fc.integer({ min: 1, max: 1500 }), range }),
    { maxLength: 6 },
  )
  .map((stays) => {
    let hour = 0
    return stays.map((stay) => {
      const from = hour + stay.gap
      hour = from + stay.hours
      return stint(from / 24, hour / 24, stay.range)
    })
  })

/** The same history with one stint warmer. */
const warmed = (stints: Parameters<typeof windowOf>[1], which: number, by: number) =>
  stints.map((stay, i) => {
    if (i !== which % stints.length) return stay
    const { low, mid, high } = stay.celsius
    return { ...stay, celsius: { low: low + by, mid: mid + by, high: high + by } }
  })

describe('whatever the history', () => {
  it('comes early no later than likely, and likely no later than late, and is never without a number', () => {
    fc.assert(
      fc.property(profiles, packagings, histories, days, fc.integer({ min: 0, max: 99 }), (...drawn) => {
        const [profile, packaging, stints, asOfDay, budStage] = drawn
        const window = windowOf(profile, stints, { packaging, budStage, asOf: afterDays(asOfDay) })
        const { early, likely, late } = daysOf(window)
        expect(early).toBeGreaterThanOrEqual(0)
        expect(likely).toBeGreaterThanOrEqual(early)
        expect(late).toBeGreaterThanOrEqual(likely)
        expect(Number.isFinite(late)).toBe(true)
        for (const share of Object.values(window.used)) {
          expect(share).toBeGreaterThanOrEqual(0)
          expect(Number.isFinite(share)).toBe(true)
        }
      }),
    )
  })

  it('gives a window or a refusal with a reason for any numbers at all', () => {
    const anyNumber = fc.oneof(fc.double({ min: -50, max: 60 }), fc.double())
    const nearby = fc.date({ min: afterDays(-50), max: afterDays(500), noInvalidDate: false })
    const anyDate = fc.oneof({ arbitrary: nearby, weight: 4 }, fc.date())
    fc.assert(
      fc.property(
        profiles,
        fc.record({ cutAt: anyDate, asOf: anyDate, from: anyDate, to: fc.option(anyDate) }),
        anyNumber,
        anyNumber,
        (profile, { cutAt: cut, asOf, from, to }, typed, keptAt) => {
          const stints = [{ from, to, celsius: steady(typed), basis: 'typed' as const }]
          const answer = viabilityWindow({ profile, cutAt: cut, asOf, stints, keptAt })
          if (answer.kind === 'refused') return answer.reason.length > 0
          return runs.every((run) => Number.isFinite(answer[run].at.getTime()))
        },
      ),
    )
  })

  it('says the very same when a stint is recorded as two', () => {
    fc.assert(
      fc.property(
        profiles,
        histories,
        fc.nat(),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (profile, stints, which, share) => {
          fc.pre(stints.length > 0)
          const split = stints.flatMap((stay, i) => {
            if (i !== which % stints.length || !stay.to) return [stay]
            const middle = new Date(
              stay.from.getTime() + Math.round(share * (stay.to.getTime() - stay.from.getTime())),
            )
            return [
              { ...stay, to: middle },
              { ...stay, from: middle },
            ]
          })
          const asOf = afterDays(50)
          expect(windowOf(profile, split, { asOf })).toEqual(windowOf(profile, stints, { asOf }))
        },
      ),
    )
  })

  it('says the same however often and after whatever else it is asked', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(profiles, histories), { minLength: 2, maxLength: 5 }), (questions) => {
        const ask = ([profile, stints]: (typeof questions)[number]) => windowOf(profile, stints)
        const forwards = questions.map(ask)
        const backwards = questions.toReversed().map(ask).toReversed()
        expect(backwards).toEqual(forwards)
      }),
    )
  })

  it('gives the same window on any day as long as the last stint is open', () => {
    fc.assert(
      fc.property(profiles, range, days, (profile, celsiusRange, asOfDay) => {
        const stints = [stint(0, null, celsiusRange)]
        const today = windowOf(profile, stints, { asOf: afterDays(asOfDay) })
        expect(daysFromCut(today.likely.at)).toBe(daysOf(windowOf(profile, stints)).likely)
      }),
    )
  })

  it('lasts no longer in a bag that lets out more water', () => {
    const tightest = ['sealed_damp', 'waxed_sealed', 'double_bag', 'sealed_bag', 'open_bag', 'paper', 'bare']
    fc.assert(
      fc.property(profiles, histories, (profile, stints) => {
        const windows = tightest.map((packaging) =>
          windowOf(profile, stints, { packaging: packaging as Packaging }),
        )
        for (const run of runs) {
          const lasts = windows.map((window) => window[run].at.getTime())
          expect(lasts).toEqual(lasts.toSorted((a, b) => b - a))
        }
      }),
    )
  })

  it('is never limited by water in a sealed bag', () => {
    fc.assert(
      fc.property(profiles, histories, (profile, stints) => {
        const window = windowOf(profile, stints, { packaging: 'sealed_bag' })
        for (const run of runs) expect(window[run].limitedBy).not.toBe('water')
      }),
    )
  })
})

describe('warmth', () => {
  it('never lengthens the early window, whatever else has happened', () => {
    fc.assert(
      fc.property(
        profiles,
        packagings,
        histories,
        fc.nat(),
        warmth,
        (profile, packaging, stints, which, by) => {
          fc.pre(stints.length > 0)
          const before = windowOf(profile, stints, { packaging }).early.at
          const after = windowOf(profile, warmed(stints, which, by), { packaging }).early.at
          expect(after.getTime()).toBeLessThanOrEqual(before.getTime())
        },
      ),
    )
  })

  it('never lengthens any window of wood at a steady temperature', () => {
    fc.assert(
      fc.property(profiles, celsius, warmth, (profile, cool, by) => {
        const before = daysOf(windowOf(profile, [stint(0, null, cool)]))
        const after = daysOf(windowOf(profile, [stint(0, null, cool + by)]))
        for (const run of runs) expect(after[run]).toBeLessThanOrEqual(before[run])
      }),
      { numRuns: 500 },
    )
  })

  it('never lengthens any window of wood that leaves its fridge for a while', () => {
    const fridge = fc.double({ min: -2, max: 8, noNaN: true })
    const hours = fc.integer({ min: 1, max: 1500 })
    fc.assert(
      fc.property(profiles, fridge, hours, hours, warmth, (profile, cool, first, away, by) => {
        const [leaves, returns] = [first / 24, (first + away) / 24]
        const stayed = daysOf(windowOf(profile, [stint(0, null, cool)]))
        const spell = [stint(0, leaves, cool), stint(leaves, returns, cool + by), stint(returns, null, cool)]
        const went = daysOf(windowOf(profile, spell))
        for (const run of runs) expect(went[run]).toBeLessThanOrEqual(stayed[run])
      }),
      { numRuns: 500 },
    )
  })

  it('never shows less of the reserve or the water gone', () => {
    fc.assert(
      fc.property(profiles, histories, fc.nat(), warmth, days, (profile, stints, which, by, asOfDay) => {
        fc.pre(stints.length > 0)
        const asOf = afterDays(asOfDay)
        const before = windowOf(profile, stints, { asOf }).used
        const after = windowOf(profile, warmed(stints, which, by), { asOf }).used
        expect(after.reserve).toBeGreaterThanOrEqual(before.reserve - 1e-12)
        expect(after.water).toBeGreaterThanOrEqual(before.water - 1e-12)
      }),
    )
  })

  it('sets buds back by no more than the one chill portion that it can undo', () => {
    // Which is whole only when it is complete. The largest set-back in 400,000 random histories was 0.96 portions.
    const onePortion = 1.1
    fc.assert(
      fc.property(
        dormantProfiles,
        histories,
        fc.nat(),
        warmth,
        days,
        (profile, stints, which, by, asOfDay) => {
          fc.pre(stints.length > 0)
          const asOf = afterDays(asOfDay)
          const before = windowOf(profile, stints, { asOf }).used.budBreak
          const after = windowOf(profile, warmed(stints, which, by), { asOf }).used.budBreak
          const setBack =
            (scenarios.likely.chillSensitivity * onePortion) / (profile.chillPortions ?? Infinity)
          expect(after).toBeGreaterThanOrEqual(before * Math.exp(-setBack))
        },
      ),
      { numRuns: 500 },
    )
  })

  it('makes no difference to evergreens below the temperature that suits them', () => {
    const { citrus_budwood, olive, avocado } = storageProfiles
    for (const profile of [citrus_budwood, olive, avocado]) {
      const atFloor = daysOf(windowOf(profile, [stint(0, null, profile.reserveFloorC)]))
      expect(daysOf(windowOf(profile, [stint(0, null, profile.reserveFloorC - 3)]))).toEqual(atFloor)
    }
  })
})
