import { describe, expect, it } from 'vitest'
import type { Packaging } from '#lib/viability/packaging.ts'
import { type StorageProfile, storageProfiles } from '#lib/viability/storage-profiles.ts'
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

const { apple, citrus_budwood, grape, pear } = storageProfiles

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

  it('takes wood without any record to lie in a room nobody has read: 25, 12 and 5 °C', () => {
    const { early, likely, late } = windowOf(apple, [])
    const steadyAt = (celsius: number) => windowOf(apple, [stint(0, null, celsius)])
    expect(early).toEqual(steadyAt(25).early)
    expect(likely).toEqual(steadyAt(12).likely)
    expect(late).toEqual(steadyAt(5).late)
    // 0.6 · 180 / 3^2.5 and 1.6 · 180 / 2^0.5, by hand; at 12 °C the buds come first.
    expect(daysFromCut(early.at)).toBeCloseTo(6.928, 3)
    expect(likely.limitedBy).toBe('bud-break')
    expect(daysFromCut(late.at)).toBeCloseTo(203.647, 3)
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

  it('tells the share of each clock gone in the likely run, beyond 1 once it has run down', () => {
    const stints = [stint(0, null, 0)]
    expect(windowOf(apple, stints).used).toEqual({ reserve: 0, budBreak: 0, water: 0 })
    expect(windowOf(apple, stints, { asOf: afterDays(90) }).used.reserve).toBeCloseTo(0.5, 12)
    expect(windowOf(apple, stints, { asOf: afterDays(270) }).used.reserve).toBeCloseTo(1.5, 12)
    const bare = windowOf(apple, [stint(0, null, 4)], { packaging: 'bare' })
    const likely = windowOf(apple, [stint(0, null, 4)], { packaging: 'bare', asOf: bare.likely.at })
    expect(likely.used.water).toBeCloseTo(1, 6)
    const warm = windowOf(apple, [stint(0, null, 10)])
    expect(windowOf(apple, [stint(0, null, 10)], { asOf: warm.likely.at }).used.budBreak).toBeCloseTo(1, 6)
  })

  it('has no bud break to tell of in wood without dormant buds', () => {
    const window = windowOf(citrus_budwood, [stint(0, null, 20)], { asOf: afterDays(300) })
    expect(window.used.budBreak).toBe(0)
    expect(window.used.reserve).toBeGreaterThan(1)
  })

  it('names the clock that runs down first, for each of the three', () => {
    const clocks = (profile: StorageProfile, celsius: number, packaging: Packaging = 'sealed_bag') => {
      const { early, likely, late } = windowOf(profile, [stint(0, null, celsius)], { packaging })
      return [early, likely, late].map(({ limitedBy }) => limitedBy)
    }
    expect(clocks(apple, 0)).toEqual(['reserve', 'reserve', 'reserve'])
    expect(clocks(apple, 10)).toEqual(['reserve', 'bud-break', 'bud-break'])
    expect(clocks(apple, 4, 'paper')).toEqual(['water', 'water', 'water'])
  })

  it('is the same for wood handed on as for the wood that stayed, up to that day', () => {
    const before = [stint(0, 3, 12), stint(3, 30, 2)]
    const stayed = windowOf(apple, [...before, stint(30, null, 2)], { asOf: afterDays(30) })
    const handedOn = windowOf(apple, [...before, stint(30, null, 7)], { asOf: afterDays(30) })
    expect(handedOn.used).toEqual(stayed.used)
    expect(handedOn.likely.at.getTime()).toBeLessThan(stayed.likely.at.getTime())
  })
})

describe('the time between two stints', () => {
  it('is a straight line from one temperature to the other up to six hours', () => {
    const sixHours = windowOf(apple, [stint(0, 10, 0), stint(10.25, null, 12)], { asOf: afterDays(10.25) })
    const byTheHour = Array.from({ length: 6 }, (_, hour) =>
      stint(10 + hour / 24, 10 + (hour + 1) / 24, 1 + 2 * hour),
    )
    const spelledOut = windowOf(apple, [stint(0, 10, 0), ...byTheHour, stint(10.25, null, 12)], {
      asOf: afterDays(10.25),
    })
    expect(sixHours).toEqual(spelledOut)
  })

  it('is a place nobody has read from then on', () => {
    const history = (hours: number) => [stint(0, 10, 0), stint(10 + hours / 24, null, 0)]
    const bridged = daysOf(windowOf(apple, history(6)))
    const holed = daysOf(windowOf(apple, history(6.01)))
    expect(bridged).toEqual(daysOf(windowOf(apple, [stint(0, null, 0)])))
    expect(holed.early).toBeLessThan(bridged.early - 1)
  })

  it('is as weakly known as the weaker of the two', () => {
    const known = (after: 'logger' | 'typed' | 'assumed') =>
      windowOf(grape, [stint(0, 10, 2, 'logger'), stint(10.1, null, 2, after)]).evidence.basis
    expect(known('logger')).toBe('A')
    expect(known('typed')).toBe('B')
    expect(known('assumed')).toBe('C')
  })
})

describe('the buds when the wood was cut', () => {
  const pearAt = (budStage: number) => windowOf(pear, [stint(0, null, 6)], { budStage })

  it('leave less time the further they had come', () => {
    const days = [0, 1, 3].map((stage) => daysOf(pearAt(stage)).likely)
    expect(days).toEqual(days.toSorted((a, b) => b - a))
    expect(new Set(days).size).toBe(3)
  })

  it('leave no time at all from green tip on, and it is said', () => {
    const window = pearAt(7)
    for (const run of ['early', 'likely', 'late'] as const) {
      expect(window[run]).toEqual({ at: cutAt, limitedBy: 'bud-break' })
    }
    expect(window.flags).toContain('buds-open-at-cut')
    expect(pearAt(3).flags).not.toContain('buds-open-at-cut')
  })

  it('rest again after the season, and are taken to be tight when nobody noted them', () => {
    expect(pearAt(97)).toEqual(pearAt(0))
    expect(windowOf(pear, [stint(0, null, 6)])).toEqual(pearAt(0))
  })

  it('do not matter for wood cut in leaf', () => {
    const summer = storageProfiles.summer_budwood
    expect(windowOf(summer, [stint(0, null, 4)], { budStage: 39 })).toEqual(
      windowOf(summer, [stint(0, null, 4)]),
    )
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

  it('refuses buds at a stage that the scale does not have', () => {
    for (const budStage of [-1, 100, 1.5, Number.NaN]) {
      expect(refusalOf({ budStage })).toEqual({ kind: 'refused', reason: 'not-a-bud-stage', budStage })
    }
  })

  it('refuses a day so far off that no limit could be told after it', () => {
    const farthest = new Date(8.64e15)
    expect(refusalOf({ asOf: farthest })).toMatchObject({ reason: 'not-a-date' })
    expect(refusalOf({ cutAt: new Date(-8.64e15) })).toMatchObject({ reason: 'not-a-date' })
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
