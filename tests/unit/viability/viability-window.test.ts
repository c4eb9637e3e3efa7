import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { storageProfileFor, storageProfiles } from '#lib/viability/storage-profiles.ts'
import { viabilityWindow } from '#lib/viability/viability-window.ts'
import {
  afterDays,
  cutAt,
  daysFromCut,
  daysOf,
  steady,
  stint,
  windowOf,
} from '#tests/unit/viability/stints.ts'

const { apple, avocado, citrus_budwood, grape, pear } = storageProfiles

const refusalOf = (input: Partial<Parameters<typeof viabilityWindow>[0]>) =>
  viabilityWindow({ profile: apple, cutAt, stints: [], asOf: afterDays(10), ...input })

describe('what is taken to have happened', () => {
  it('lets the last stint go on after the day asked about', () => {
    const open = windowOf(apple, [stint(0, null, 2)], { asOf: afterDays(30) })
    const closedLater = windowOf(apple, [stint(0, 40, 2)], { asOf: afterDays(30) })
    expect(closedLater.likely).toEqual(open.likely)
    const closedNow = windowOf(apple, [stint(0, 30, 2)], { asOf: afterDays(30) })
    expect(closedNow.likely).toEqual(open.likely)
  })

  it('does not know where the wood is when its last stint has ended', () => {
    const lost = windowOf(apple, [stint(0, 20, 2)], { asOf: afterDays(30) })
    const inRoom = windowOf(
      apple,
      [stint(0, 20, 2), stint(20, null, { low: 5, mid: 12, high: 25 }, 'assumed')],
      {
        asOf: afterDays(30),
      },
    )
    expect(lost.flags).toContain('whereabouts-unknown')
    expect(daysOf(lost)).toEqual(daysOf(inRoom))
    expect(lost.used).toEqual(inRoom.used)
  })

  it('counts time between two stints as a room nobody has read', () => {
    const holed = windowOf(apple, [stint(0, 20, 2), stint(30, null, 2)])
    const filled = windowOf(apple, [
      stint(0, 20, 2),
      stint(20, 30, { low: 5, mid: 12, high: 25 }, 'assumed'),
      stint(30, null, 2),
    ])
    expect(daysOf(holed)).toEqual(daysOf(filled))
    expect(holed.flags).toContain('gap-in-record')
  })

  it('counts time between the cut and the first stint in the same way', () => {
    const late = windowOf(apple, [stint(3, null, 2)])
    expect(daysOf(late).likely).toBeLessThan(daysOf(windowOf(apple, [stint(0, null, 2)])).likely)
    expect(late.flags).toContain('gap-in-record')
  })

  it('takes wood without any record to lie in a room nobody has read: apple 7, 60 and 204 days', () => {
    const { early, likely, late } = daysOf(windowOf(apple, []))
    // 0.6 · 180 / 3^2.5, 180 / 2.5^1.2 and 1.6 · 180 / 2^0.5, by hand.
    expect(early).toBeCloseTo(6.928, 3)
    expect(likely).toBeCloseTo(59.944, 3)
    expect(late).toBeCloseTo(203.647, 3)
    expect(windowOf(apple, []).flags).toContain('no-store-recorded')
  })

  it('reads the stints in the order of time, whatever order they come in', () => {
    const stints = [stint(0, 20, 2), stint(20, 25, 15), stint(25, null, 4)]
    expect(windowOf(apple, stints.toReversed())).toEqual(windowOf(apple, stints))
  })

  it('leaves out a stint without length', () => {
    const moment = stint(20, 20, 30)
    const stints = [stint(0, 40, 2), stint(40, null, 4)]
    expect(windowOf(apple, [...stints, moment])).toEqual(windowOf(apple, stints))
  })

  it('replaces all that lies after the day asked about by the temperature it might be kept at', () => {
    const asOf = afterDays(30)
    const stints = [stint(0, 20, 2), stint(20, 60, 15), stint(60, null, 20)]
    const kept = windowOf(apple, stints, { asOf, keptAt: 0 })
    const spelledOut = windowOf(apple, [stint(0, 20, 2), stint(20, 30, 15), stint(30, null, 0)], { asOf })
    expect(daysOf(kept)).toEqual(daysOf(spelledOut))
    expect(kept.used).toEqual(spelledOut.used)
  })

  it('answers for wood not yet stored if it is kept at a temperature from the cut on', () => {
    const kept = windowOf(apple, [], { keptAt: 4 })
    expect(daysOf(kept)).toEqual(daysOf(windowOf(apple, [stint(0, null, 4)])))
    expect(kept.flags).not.toContain('no-store-recorded')
  })

  it('tells the share of the reserve gone in the likely run, beyond 1 once it is spent', () => {
    const stints = [stint(0, null, 0)]
    expect(windowOf(apple, stints).used.reserve).toBe(0)
    expect(windowOf(apple, stints, { asOf: afterDays(90) }).used.reserve).toBeCloseTo(0.5, 12)
    expect(windowOf(apple, stints, { asOf: afterDays(270) }).used.reserve).toBeCloseTo(1.5, 12)
  })

  it('names the reserve as what limits each of the three', () => {
    const { early, likely, late } = windowOf(apple, [stint(0, null, 0)])
    expect([early, likely, late].map(({ limitedBy }) => limitedBy)).toEqual(['reserve', 'reserve', 'reserve'])
  })
})

describe('what is told beside the window', () => {
  const flagsAt = (celsius: number, profile: Parameters<typeof windowOf>[0] = apple) =>
    windowOf(profile, [stint(0, null, celsius)]).flags

  it('says that bud break is not counted, for wood that has buds to break', () => {
    expect(flagsAt(2)).toEqual(['bud-break-not-counted'])
    expect(flagsAt(5, citrus_budwood)).toEqual([])
  })

  it('asks to look at apple that has been at −18 °C, at once', () => {
    expect(flagsAt(-18)).toContain('inspect-after-frost')
    expect(flagsAt(-17.9)).not.toContain('inspect-after-frost')
  })

  it('warns of evergreen wood kept colder than suits it', () => {
    expect(flagsAt(5.9, avocado)).toContain('too-cold-for-evergreen')
    expect(flagsAt(6, avocado)).not.toContain('too-cold-for-evergreen')
  })

  it('says when the model is stretched', () => {
    expect(flagsAt(30)).not.toContain('outside-model-range')
    expect(flagsAt(30.1)).toContain('outside-model-range')
    expect(flagsAt(-2)).not.toContain('outside-model-range')
    expect(flagsAt(-2.1)).toContain('outside-model-range')
  })

  it('says when the plant is not in the table', () => {
    const { profile, isFallback } = storageProfileFor('medlar')
    expect(isFallback).toBe(true)
    expect(flagsAt(2, profile)).toContain('unknown-group')
  })

  it('says when a temperature is only assumed', () => {
    const assumed = windowOf(apple, [stint(0, null, { low: 2, mid: 4.5, high: 8 }, 'assumed')])
    expect(assumed.flags).toContain('temperature-assumed')
    expect(assumed.evidence.basis).toBe('C')
  })

  it('does not make a hole of the six hours that a journey takes', () => {
    const journey = windowOf(apple, [stint(0, 10, 2, 'logger'), stint(10.25, null, 2, 'logger')])
    expect(journey.flags).toEqual(['bud-break-not-counted'])
    expect(journey.evidence.basis).toBe('A')
    const longer = windowOf(apple, [stint(0, 10, 2, 'logger'), stint(10 + 6.01 / 24, null, 2, 'logger')])
    expect(longer.flags).toContain('gap-in-record')
    expect(longer.evidence.basis).toBe('C')
  })

  it('calls the evidence A with a logger and a storage trial, B with typed readings, C by convention', () => {
    expect(windowOf(grape, [stint(0, null, 1, 'logger')]).evidence).toMatchObject({
      grade: 'good',
      basis: 'A',
    })
    expect(windowOf(grape, [stint(0, null, 1)]).evidence).toMatchObject({ basis: 'B' })
    expect(windowOf(storageProfiles.walnut, [stint(0, null, 1, 'logger')]).evidence.basis).toBe('B')
    expect(windowOf(pear, [stint(0, null, 1, 'logger')]).evidence.basis).toBe('C')
    expect(windowOf(grape, [stint(0, null, 1)]).evidence.sources).toEqual(['ijsar2018', 'wample', 'alley'])
  })
})

describe('what is refused', () => {
  it('refuses a fridge at −80 °C and a shed at 90 °C, and says which stint', () => {
    const stints = [stint(0, 5, 2), stint(5, null, -80)]
    expect(refusalOf({ stints })).toEqual({
      kind: 'refused',
      reason: 'absurd-temperature',
      celsius: -80,
      stint: 1,
    })
    expect(refusalOf({ stints: [stint(0, null, 90)] })).toMatchObject({
      reason: 'absurd-temperature',
      celsius: 90,
    })
    expect(refusalOf({ keptAt: 90 })).toMatchObject({ reason: 'absurd-temperature', stint: null })
    expect(refusalOf({ keptAt: Number.NaN })).toMatchObject({ reason: 'absurd-temperature' })
  })

  it('refuses wood that is cut after the day asked about', () => {
    const asOf = afterDays(-1)
    expect(refusalOf({ asOf })).toEqual({ kind: 'refused', reason: 'cut-in-future', cutAt, asOf })
  })

  it('refuses a stint that begins before the cut', () => {
    expect(refusalOf({ stints: [stint(-1, null, 2)] })).toEqual({
      kind: 'refused',
      reason: 'stint-before-cut',
      stint: 0,
    })
  })

  it('refuses a stint that ends before it starts', () => {
    expect(refusalOf({ stints: [stint(5, 4, 2)] })).toMatchObject({ reason: 'stint-ends-before-it-starts' })
  })

  it('refuses stints that overlap, and names the two', () => {
    const stints = [stint(8, null, 2), stint(0, 10, 4)]
    expect(refusalOf({ stints })).toEqual({ kind: 'refused', reason: 'stints-overlap', stints: [1, 0] })
    expect(refusalOf({ stints: [stint(0, null, 2), stint(5, 6, 4)] })).toMatchObject({
      reason: 'stints-overlap',
    })
  })

  it('refuses a range whose low end is above its high end', () => {
    const stints = [stint(0, null, { low: 8, mid: 4, high: 2 })]
    expect(refusalOf({ stints })).toMatchObject({ reason: 'temperature-out-of-order', stint: 0 })
  })

  it('refuses a moment that is not a date', () => {
    const never = new Date(Number.NaN)
    expect(refusalOf({ cutAt: never })).toEqual({ kind: 'refused', reason: 'not-a-date', stint: null })
    expect(refusalOf({ asOf: never })).toMatchObject({ reason: 'not-a-date' })
    const stints = [{ from: cutAt, to: never, celsius: steady(2), basis: 'typed' as const }]
    expect(refusalOf({ stints })).toEqual({ kind: 'refused', reason: 'not-a-date', stint: 0 })
  })
})

describe('whatever the history', () => {
  const profiles = fc.constantFrom(...Object.values(storageProfiles))
  const celsius = fc.double({ min: -20, max: 35, noNaN: true })
  const range = fc.tuple(celsius, celsius, celsius).map((values) => {
    const [low = 0, mid = 0, high = 0] = values.toSorted((a, b) => a - b)
    return { low, mid, high }
  })
  /** Stays of some days, one after the other, some with a gap before them. */
  const histories = fc
    .array(fc.record({ gap: fc.integer({ min: 0, max: 3 }), days: fc.integer({ min: 1, max: 60 }), range }), {
      maxLength: 6,
    })
    .map((stays) => {
      let day = 0
      return stays.map((stay) => {
        const from = day + stay.gap
        day = from + stay.days
        return stint(from, day, stay.range)
      })
    })
  const days = fc.integer({ min: 0, max: 400 })

  it('comes early no later than likely, and likely no later than late, and is never without a number', () => {
    fc.assert(
      fc.property(profiles, histories, days, (profile, stints, asOfDay) => {
        const window = windowOf(profile, stints, { asOf: afterDays(asOfDay) })
        const { early, likely, late } = daysOf(window)
        expect(early).toBeGreaterThan(0)
        expect(likely).toBeGreaterThanOrEqual(early)
        expect(late).toBeGreaterThanOrEqual(likely)
        expect(Number.isFinite(late)).toBe(true)
        expect(window.used.reserve).toBeGreaterThanOrEqual(0)
        expect(Number.isFinite(window.used.reserve)).toBe(true)
      }),
    )
  })

  it('says the same when a stint is recorded as two', () => {
    fc.assert(
      fc.property(
        profiles,
        histories,
        fc.nat(),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (profile, stints, which, share) => {
          fc.pre(stints.length > 0)
          const at = which % stints.length
          const split = stints.flatMap((stay, i) => {
            if (i !== at || !stay.to) return [stay]
            const middle = new Date(
              stay.from.getTime() + Math.round(share * (stay.to.getTime() - stay.from.getTime())),
            )
            return [
              { ...stay, to: middle },
              { ...stay, from: middle },
            ]
          })
          const asOf = afterDays(50)
          const whole = windowOf(profile, stints, { asOf })
          const parts = windowOf(profile, split, { asOf })
          for (const run of ['early', 'likely', 'late'] as const) {
            expect(Math.abs(parts[run].at.getTime() - whole[run].at.getTime())).toBeLessThanOrEqual(1)
          }
          expect(parts.used.reserve).toBeCloseTo(whole.used.reserve, 9)
          expect(parts.flags).toEqual(whole.flags)
          expect(parts.evidence).toEqual(whole.evidence)
        },
      ),
    )
  })

  it('never keeps longer for having been warmer', () => {
    fc.assert(
      fc.property(
        profiles,
        histories,
        fc.nat(),
        fc.double({ min: 0, max: 15, noNaN: true }),
        (profile, stints, which, warmer) => {
          fc.pre(stints.length > 0)
          const at = which % stints.length
          const warmed = stints.map((stay, i) => {
            if (i !== at) return stay
            const { low, mid, high } = stay.celsius
            return { ...stay, celsius: { low: low + warmer, mid: mid + warmer, high: high + warmer } }
          })
          const before = daysOf(windowOf(profile, stints))
          const after = daysOf(windowOf(profile, warmed))
          expect(after.early).toBeLessThanOrEqual(before.early)
          expect(after.likely).toBeLessThanOrEqual(before.likely)
          expect(after.late).toBeLessThanOrEqual(before.late)
        },
      ),
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
})
