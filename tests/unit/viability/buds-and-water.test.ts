import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { budProgressAtStage } from '#lib/viability/bud-stage.ts'
import { forcingRequirement } from '#lib/viability/forcing-requirement.ts'
import { forcingShare } from '#lib/viability/forcing-share.ts'
import { hourSpent } from '#lib/viability/hour-spent.ts'
import { scenarios } from '#lib/viability/scenarios.ts'
import { shareSpent } from '#lib/viability/share-spent.ts'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import { waterLossPerDay } from '#lib/viability/water-clock.ts'

describe('forcing', () => {
  it('goes from 0 at the base to 1 at 25 °C and stays between them', () => {
    const bases = fc.constantFrom(-4, -2, 0, 4)
    fc.assert(
      fc.property(fc.double({ min: -50, max: 60, noNaN: true }), bases, (celsius, base) => {
        const share = forcingShare(celsius, base)
        expect(share).toBeGreaterThanOrEqual(0)
        expect(share).toBeLessThanOrEqual(1)
        if (celsius <= base) expect(share).toBe(0)
        if (celsius > base + 1e-6) expect(share).toBeGreaterThan(0)
      }),
    )
    expect(forcingShare(25, 4)).toBe(1)
    expect(forcingShare(40, 4)).toBe(1)
  })

  it('moves buds in a fridge, where growing degree hours see nothing', () => {
    expect(forcingShare(3, storageProfiles.apple.forcingBaseC)).toBeGreaterThan(0.01)
  })
})

describe('what buds need', () => {
  const needed = (portions: number, run: keyof typeof scenarios = 'likely') =>
    forcingRequirement(storageProfiles.apple, scenarios[run], portions)

  it('is the forcing hours of the group once chilled, and no less with more chill', () => {
    expect(needed(15)).toBeCloseTo(300, 9)
    expect(needed(500)).toBeCloseTo(300, 9)
    expect(needed(14.9)).toBeGreaterThan(300)
  })

  it('is 2.5, 3 and 4 times that for buds without any chill, by run', () => {
    const ratio = (run: keyof typeof scenarios) => {
      const scenario = { ...scenarios[run], chilledAtCut: 0 }
      const unchilled = forcingRequirement(storageProfiles.apple, scenario, 0)
      return unchilled / forcingRequirement(storageProfiles.apple, scenario, 50)
    }
    expect(ratio('early')).toBeCloseTo(2.5, 9)
    expect(ratio('likely')).toBeCloseTo(3, 9)
    expect(ratio('late')).toBeCloseTo(4, 9)
  })

  it('halves over the same number of portions wherever it starts', () => {
    const portions = (50 * Math.log(2)) / Math.log(3)
    const scenario = { ...scenarios.likely, chilledAtCut: 0 }
    const at = (had: number) => forcingRequirement(storageProfiles.apple, scenario, had)
    expect(at(portions) / at(0)).toBeCloseTo(0.5, 9)
    expect(at(portions + 10) / at(10)).toBeCloseTo(0.5, 9)
  })
})

describe('buds as people see them', () => {
  it('are none of the way when tight, all of it from green tip, and never go back as the season goes on', () => {
    const stages = Array.from({ length: 91 }, (_, stage) => stage)
    const progress = stages.map(budProgressAtStage)
    expect(progress).toEqual(progress.toSorted((a, b) => a - b))
    expect([0, 1, 2, 3, 6, 7, 53, 90].map(budProgressAtStage)).toEqual([0, 0.6, 0.6, 0.8, 0.8, 1, 1, 1])
    expect([91, 97, 99].map(budProgressAtStage)).toEqual([0, 0, 0])
  })
})

describe('drying', () => {
  it('takes 0.81 % of the mass of bare sticks a day at 4 °C and less in every other packaging', () => {
    expect(waterLossPerDay('bare', 4)).toBeCloseTo(0.00813, 5)
    expect(waterLossPerDay('paper', 4) / waterLossPerDay('bare', 4)).toBeCloseTo(0.6, 9)
    expect(waterLossPerDay('sealed_damp', 4) / waterLossPerDay('bare', 4)).toBeCloseTo(0.0025, 9)
  })

  it('goes with the saturation pressure of water, 2.3388 kPa at 20 °C', () => {
    // Handbook value for 20 °C, from memory; Tetens' formula is good to a tenth of a per cent there.
    expect(waterLossPerDay('bare', 20) / (0.02 * 0.5)).toBeCloseTo(2.3388, 2)
  })
})

describe('a clock whose pace the temperature sets', () => {
  const stretches = [
    { from: 0, to: 48, celsius: 1 },
    { from: 48, to: Infinity, celsius: 2 },
  ]
  const pace = (celsius: number) => celsius / 10

  it('has run down when its shares add up to 1', () => {
    // 0.2 in two days at a tenth a day, then 0.8 at a fifth: four days more.
    expect(hourSpent(stretches, pace)).toBeCloseTo(6 * 24, 9)
    expect(shareSpent(stretches, pace, 6 * 24)).toBeCloseTo(1, 12)
    expect(shareSpent(stretches, pace, 24)).toBeCloseTo(0.1, 12)
    expect(shareSpent(stretches, pace, 0)).toBe(0)
  })

  it('is a defect when it never runs down', () => {
    expect(() => hourSpent(stretches.slice(0, 1), pace)).toThrow('ended')
    expect(() => hourSpent(stretches, () => 0)).toThrow('ended')
  })
})
