import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { ScenarioName } from '#lib/viability/scenarios.ts'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import { viabilityWindow } from '#lib/viability/viability-window.ts'
import { afterDays, cutAt, daysOf, steady, stint, windowOf } from '#tests/unit/viability/stints.ts'

const runs: readonly ScenarioName[] = ['early', 'likely', 'late']
const profiles = fc.constantFrom(...Object.values(storageProfiles))
const celsius = fc.double({ min: -5, max: 25, noNaN: true })
const histories = fc
  .array(fc.record({ hours: fc.integer({ min: 1, max: 1500 }), celsius }), { minLength: 1, maxLength: 5 })
  .map((stays) => {
    let hour = 0
    return stays.map((stay, i) => {
      const from = hour
      hour += stay.hours
      return stint(from / 24, i === stays.length - 1 ? null : hour / 24, stay.celsius)
    })
  })
/** A look between the cut and four hundred days later, also at odd minutes. */
const day = fc.double({ min: 0, max: 400, noNaN: true })
// From stage 91 on buds rest again, so the scale is followed up to 90.
const stage = fc.integer({ min: 0, max: 90 })
const look = fc.record({ day, stage })
const seen = (looks: readonly { day: number; stage: number }[]) =>
  looks.map((one) => ({ at: afterDays(one.day), budStage: one.stage }))

const { apple, peach_nectarine, avocado } = storageProfiles

describe('buds that were seen in store', () => {
  it('never lengthen a window, whatever their stage', () => {
    fc.assert(
      fc.property(
        profiles,
        histories,
        fc.array(look, { maxLength: 3 }),
        look,
        (profile, stints, before, more) => {
          const without = windowOf(profile, stints, { observedBuds: seen(before) })
          const withIt = windowOf(profile, stints, { observedBuds: seen([...before, more]) })
          for (const run of runs)
            expect(withIt[run].at.getTime()).toBeLessThanOrEqual(without[run].at.getTime())
        },
      ),
    )
  })

  it('shorten it no less the further they are', () => {
    fc.assert(
      fc.property(profiles, histories, day, stage, stage, (profile, stints, on, one, other) => {
        const window = (budStage: number) =>
          windowOf(profile, stints, { observedBuds: seen([{ day: on, stage: budStage }]) })
        const tighter = window(Math.min(one, other))
        const further = window(Math.max(one, other))
        for (const run of runs)
          expect(further[run].at.getTime()).toBeLessThanOrEqual(tighter[run].at.getTime())
      }),
    )
  })

  it('keep early before likely and likely before late', () => {
    fc.assert(
      fc.property(profiles, histories, fc.array(look, { maxLength: 4 }), (profile, stints, looks) => {
        const { early, likely, late } = daysOf(windowOf(profile, stints, { observedBuds: seen(looks) }))
        expect(likely).toBeGreaterThanOrEqual(early)
        expect(late).toBeGreaterThanOrEqual(likely)
      }),
      { numRuns: 500 },
    )
  })

  it('are the same in whatever order they are told, and when told twice', () => {
    fc.assert(
      fc.property(profiles, histories, fc.array(look, { maxLength: 3 }), (profile, stints, looks) => {
        const asOf = afterDays(60)
        const told = windowOf(profile, stints, { asOf, observedBuds: seen(looks) })
        const again = windowOf(profile, stints, { asOf, observedBuds: seen([...looks, ...looks].reverse()) })
        expect(again).toEqual(told)
      }),
    )
  })

  it('at the cut say what the stage at the cut says', () => {
    for (const budStage of [0, 1, 3, 7]) {
      const atCut = windowOf(apple, [stint(0, null, 4)], { budStage })
      const seenThen = windowOf(apple, [stint(0, null, 4)], { observedBuds: [{ at: cutAt, budStage }] })
      expect(daysOf(seenThen)).toEqual(daysOf(atCut))
    }
  })

  it('at green tip end the window at the look', () => {
    const { early, likely, late } = windowOf(apple, [stint(0, null, 2)], {
      observedBuds: [{ at: afterDays(40), budStage: 7 }],
    })
    for (const limit of [early, likely, late]) {
      expect(limit).toEqual({ at: afterDays(40), limitedBy: 'bud-break' })
    }
  })

  it('swollen make bud break the limit of peach in a fridge, and are counted from that day on', () => {
    const stints = [stint(0, null, 4)]
    const before = windowOf(peach_nectarine, stints, { asOf: afterDays(40) })
    const after = windowOf(peach_nectarine, stints, {
      asOf: afterDays(40),
      observedBuds: [{ at: afterDays(40), budStage: 3 }],
    })
    expect(before.likely.limitedBy).toBe('reserve')
    expect(after.likely.limitedBy).toBe('bud-break')
    expect(after.likely.at.getTime()).toBeGreaterThan(afterDays(40).getTime())
    expect(after.used.budBreak).toBeCloseTo(0.8, 12)
    expect(after.used.reserve).toBe(before.used.reserve)
  })

  it('make no difference to evergreen wood, which has none at rest', () => {
    const stints = [stint(0, null, 8)]
    expect(windowOf(avocado, stints, { observedBuds: [{ at: afterDays(3), budStage: 7 }] })).toEqual(
      windowOf(avocado, stints),
    )
  })

  it('are refused with a stage that is none, and without a day', () => {
    const ask = (observedBuds: { at: Date; budStage: number }[]) =>
      viabilityWindow({
        profile: apple,
        cutAt,
        asOf: cutAt,
        stints: [{ from: cutAt, to: null, celsius: steady(4), basis: 'typed' }],
        observedBuds,
      })
    expect(ask([{ at: cutAt, budStage: 100 }])).toEqual({
      kind: 'refused',
      reason: 'not-a-bud-stage',
      budStage: 100,
    })
    expect(ask([{ at: new Date(Number.NaN), budStage: 1 }])).toMatchObject({ reason: 'not-a-date' })
  })
})
