import { describe, expect, test } from 'vitest'
import { civilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import { dayClock } from '#lib/wood/day-clock.ts'
import { byStore, type ReadingHour } from '#lib/wood/reading-hours.ts'
import type { StayInStore } from '#lib/wood/stay-in-store.ts'
import { stintsOfStay, temperatureOfStay } from '#lib/wood/temperature-of-stay.ts'
import {
  type LotToKeep,
  type LotWindow,
  lengtheningOfLot,
  narrowingOfLot,
  windowOfLot,
} from '#lib/wood/window-of-lot.ts'

const clock = dayClock('Europe/London')
const cutOn = civilDate('2027-01-11')
const now = new Date('2027-02-04T09:00:00Z')
const asOf = (hours: readonly ReadingHour[] = []) => ({ clock, readings: byStore(hours), now })

const stay = (from: string, to: string | null, more: Partial<StayInStore> = {}): StayInStore => ({
  storeId: 'fridge',
  storeKind: 'fridge',
  typedCelsius: 4,
  from: clock.noon(civilDate(from)),
  to: to === null ? null : clock.noon(civilDate(to)),
  ...more,
})

const lot = (stays: readonly StayInStore[], more: Partial<LotToKeep> = {}): LotToKeep => ({
  kind: 'scion_wood',
  cutOn,
  storageProfile: 'apple',
  stays,
  ...more,
})

const windowOf = (of: LotToKeep, readings: readonly ReadingHour[] = []): LotWindow => {
  const window = windowOfLot(of, asOf(readings))
  if (window.kind === 'none') throw new Error(window.why)
  return window
}

const daysOf = ({ early, likely, late }: LotWindow) =>
  [early, likely, late].map((day) => daysBetween(cutOn, day))

const hourMs = 3_600_000

/** A logger that wrote at noon of so many days, or every so many hours. */
const logged = (
  storeId: string,
  from: string,
  days: number,
  celsius: number,
  everyHours = 24,
): ReadingHour[] =>
  Array.from({ length: Math.round((days * 24) / everyHours) }, (_, i) => ({
    storeId,
    hourMs: Date.parse(`${from}T12:00:00Z`) + i * everyHours * hourMs,
    lowest: celsius - 1,
    mean: celsius,
    highest: celsius + 1,
    isLogged: true,
  }))

describe('the window of a lot', () => {
  // The storage table of the viability notes: apple at a steady 4 °C, from the reserve clock alone.
  test('is that of the storage table for apple at 4 °C', () => {
    expect(daysOf(windowOf(lot([stay('2027-01-11', null)])))).toEqual([70, 125, 218])
  })

  test('starts at the cut even where the record of the first stay starts at midnight', () => {
    const early = { ...stay('2027-01-11', null), from: new Date('2027-01-11T00:00:00Z') }
    expect(windowOf(lot([early]))).toEqual(windowOf(lot([stay('2027-01-11', null)])))
  })

  test('of wood cut this morning is there before its noon', () => {
    const today = lot([stay('2027-02-04', null)], { cutOn: civilDate('2027-02-04') })
    expect(windowOf(today)).toMatchObject({ kind: 'window', state: 'good' })
  })

  test('ends sooner when the wood lay in a warm shed first', () => {
    const warm = lot([
      stay('2027-01-11', '2027-01-13', { storeId: 'shed', storeKind: 'shed', typedCelsius: null }),
      stay('2027-01-13', null),
    ])
    const cold = windowOf(lot([stay('2027-01-11', null)]))
    const window = windowOf(warm)
    expect(window.early < cold.early).toBe(true)
    expect(window.bases).toEqual(['assumed', 'typed'])
    expect(window.evidence.basis).toBe('C')
  })

  test('of wood without a variety is the cautious one, and says so', () => {
    const unnamed = windowOf(lot([stay('2027-01-11', null)], { storageProfile: null }))
    expect(unnamed.flags).toContain('unknown-group')
    expect(unnamed.likely < windowOf(lot([stay('2027-01-11', null)])).likely).toBe(true)
  })

  test('of budwood cut in leaf is short, but not of an evergreen', () => {
    const days = (storageProfile: string) =>
      daysOf(windowOf(lot([stay('2027-01-11', null)], { kind: 'budwood', storageProfile })))[1] ?? 0
    expect(days('apple')).toBeLessThan(21)
    expect(days('citrus_budwood')).toBeGreaterThan(60)
  })

  test('ends with the buds when they were moving at the cut, and at once when they were open', () => {
    const cut = (budStage: number) => windowOf(lot([stay('2027-01-11', null)], { budStage }))
    expect(cut(1).likely < cut(0).likely).toBe(true)
    expect(cut(1).limitedBy).toBe('bud-break')
    expect(daysOf(cut(7))).toEqual([0, 0, 0])
    expect(cut(7).flags).toContain('buds-open-at-cut')
  })

  test('ends with the water when the sticks are bare', () => {
    const packed = (packaging: 'bare' | 'sealed_damp') =>
      windowOf(lot([stay('2027-01-11', null)], { packaging }))
    expect(packed('bare').limitedBy).toBe('water')
    expect(packed('sealed_damp').used.water < packed('bare').used.water).toBe(true)
  })

  test('is not worked out for rooted plants', () => {
    expect(windowOfLot(lot([], { kind: 'rooted_plants' }), asOf())).toEqual({
      kind: 'none',
      why: 'rooted-plants',
    })
  })

  test('is refused for a record that overlaps', () => {
    const twice = lot([stay('2027-01-11', null), stay('2027-01-12', null)])
    expect(windowOfLot(twice, asOf())).toEqual({ kind: 'none', why: 'stints-overlap' })
  })

  test('stands where the day of a limit belongs to what comes after it', () => {
    const window = windowOf(lot([stay('2027-01-11', null)]))
    const stateAt = (day: string) => {
      const then = windowOfLot(lot([stay('2027-01-11', null)]), {
        clock,
        readings: new Map(),
        now: clock.noon(civilDate(day)),
      })
      return then.kind === 'window' ? then.state : then.why
    }
    expect([
      stateAt('2027-01-20'),
      stateAt(window.early),
      stateAt(window.likely),
      stateAt(window.late),
    ]).toEqual(['good', 'soon', 'test', 'past'])
  })
})

describe('the temperature of a stay', () => {
  const open = stay('2027-01-11', null)

  test('is what the keeper noted when nobody read the thermometer', () => {
    expect(temperatureOfStay(open, [])).toEqual({ celsius: { low: 4, mid: 4, high: 4 }, basis: 'typed' })
  })

  test('is assumed when nobody noted anything', () => {
    expect(temperatureOfStay({ ...open, typedCelsius: null }, []).basis).toBe('assumed')
  })

  test('is the mean of a logger that covered the stay', () => {
    const readings = logged('fridge', '2027-01-11', 25, 2)
    expect(temperatureOfStay(open, readings)).toEqual({
      celsius: { low: 2, mid: 2, high: 2 },
      basis: 'logger',
    })
  })

  test('is the mean of a logger that wrote every third day, with two standard errors to either side', () => {
    const everyThird = logged('fridge', '2027-01-11', 25, 2)
      .filter((_, day) => day % 3 === 0)
      .map((day, i) => ({ ...day, mean: i % 2 === 0 ? 1 : 3 }))
    const { celsius, basis } = temperatureOfStay(open, everyThird)
    // Nine days, five of 1 and four of 3 °C: mean 1.889, standard deviation 1.054, standard error 0.351.
    expect(celsius).toEqual({ low: 1.19, mid: 1.89, high: 2.59 })
    expect(basis).toBe('logger')
  })

  test('counts what the keeper noted as one reading more when a logger covered a part only', () => {
    const readings = logged('fridge', '2027-01-11', 5, 2)
    const over = stay('2027-01-11', '2027-02-04')
    // Five of 2 and one of 4 °C: mean 2.333, standard error 0.333.
    expect(temperatureOfStay(over, readings)).toEqual({
      celsius: { low: 1.67, mid: 2.33, high: 3 },
      basis: 'typed',
    })
  })

  test('never reaches beyond what was read', () => {
    const [once] = logged('fridge', '2027-01-20', 1, 9)
    const typed = once && { ...once, lowest: 9, highest: 9, isLogged: false }
    expect(temperatureOfStay(open, typed ? [typed] : []).celsius).toEqual({ low: 4, mid: 6.5, high: 9 })
  })

  test('is one reading as it stands where nobody noted anything', () => {
    const [once] = logged('fridge', '2027-01-20', 1, 9)
    const typed = once && { ...once, isLogged: false }
    const bare = { ...open, typedCelsius: null }
    expect(temperatureOfStay(bare, typed ? [typed] : []).celsius).toEqual({ low: 9, mid: 9, high: 9 })
  })

  test('does not follow another store, or another time', () => {
    const over = stay('2027-01-11', '2027-02-04')
    const later = logged('fridge', '2027-02-06', 5, 12)
    expect(temperatureOfStay(over, later).celsius.high).toBe(4)
    const readings = byStore(logged('cellar', '2027-01-11', 25, 12))
    expect(windowOfLot(lot([over]), { clock, readings, now })).toEqual(windowOf(lot([over])))
  })
})

describe('a stay as the model goes through it', () => {
  const open = stay('2027-01-11', null)
  const steady = logged('fridge', '2027-01-11', 20, 2, 1)

  test('follows a logger hour by hour, and goes on as its last day was', () => {
    const stints = stintsOfStay(open, steady)
    expect(stints).toHaveLength(480)
    expect(stints.at(-1)).toMatchObject({ to: null, celsius: { low: 2, mid: 2, high: 2 }, basis: 'logger' })
  })

  test('keeps the window of apple at the temperature that the logger showed', () => {
    // 180 days at 0 °C over 2.5 to the power of 0.2 is 149.9 days.
    expect(daysOf(windowOf(lot([open]), steady))[1]).toBe(150)
  })

  test('counts a warm night that a logger saw', () => {
    const warm = steady.map((hour, i) => (i >= 100 && i < 124 ? { ...hour, mean: 18 } : hour))
    expect(windowOf(lot([open]), warm).likely < windowOf(lot([open]), steady).likely).toBe(true)
  })

  test('takes what a logger leaves open for more than six hours as noted, or as assumed where nobody noted it', () => {
    const hole = steady.filter((_, i) => i < 100 || i >= 107)
    const longest = (of: StayInStore) =>
      stintsOfStay(of, hole).filter(({ from, to }) => to && to.getTime() - from.getTime() > 6 * hourMs)
    expect(longest(open)).toMatchObject([{ basis: 'typed', celsius: { low: 4, mid: 4, high: 4 } }])
    expect(longest({ ...open, typedCelsius: null })).toMatchObject([
      { basis: 'assumed', celsius: { low: 2, mid: 4.5, high: 8 } },
    ])
    const bridged = steady.filter((_, i) => i < 100 || i >= 105)
    expect(stintsOfStay(open, bridged).every(({ basis }) => basis === 'logger')).toBe(true)
  })

  test('is one temperature where a logger wrote morning and evening only', () => {
    expect(stintsOfStay(open, logged('fridge', '2027-01-11', 20, 2, 12))).toHaveLength(1)
  })

  test('does not change with the day on which it is asked', () => {
    for (const readings of [[], steady, logged('fridge', '2027-01-11', 4, 2)]) {
      const limits = ['2027-01-20', '2027-02-04', '2028-02-04'].map((day) => {
        const at = { clock, readings: byStore(readings), now: clock.noon(civilDate(day)) }
        const window = windowOfLot(lot([open]), at)
        return window.kind === 'window' ? [window.early, window.likely, window.late] : window.why
      })
      expect(new Set(limits.map((days) => JSON.stringify(days))).size).toBe(1)
    }
  })
})

describe('what would lengthen the window', () => {
  const kept = (typedCelsius: number, more: Partial<LotToKeep> = {}) =>
    lengtheningOfLot(lot([stay('2027-01-11', null, { typedCelsius })], more), asOf())

  test('is a store two degrees colder from today on', () => {
    // Apple at 4 °C has used 23.875 of 124.8 days by now; at 2 °C the rest goes slower by 2.5 to the power of 0.2.
    const left = 124.8 - 23.875
    expect(kept(4)).toEqual({ colderBy: 2, celsius: 2, days: Math.round(left * (2.5 ** 0.2 - 1)) })
  })

  test('goes no further than cold is good for the group, and not below what harms an evergreen', () => {
    expect(kept(-1)).toMatchObject({ colderBy: 1, celsius: -2 })
    expect(kept(-2)).toBeNull()
    expect(kept(5, { storageProfile: 'citrus_budwood', kind: 'budwood' })).toMatchObject({ celsius: 4 })
    expect(kept(4, { storageProfile: 'citrus_budwood', kind: 'budwood' })).toBeNull()
  })

  test('is nothing for wood past its likely limit, and for wood that is nowhere', () => {
    expect(kept(4, { cutOn: civilDate('2027-01-11'), packaging: 'bare' })).toBeNull()
    const left = stay('2027-01-11', '2027-01-20')
    expect(lengtheningOfLot(lot([left]), asOf())).toBeNull()
    expect(lengtheningOfLot(lot([], { kind: 'rooted_plants' }), asOf())).toBeNull()
  })
})

describe('what would narrow the window', () => {
  const shed = stay('2027-01-11', '2027-01-13', { storeId: 'shed', storeKind: 'shed', typedCelsius: null })

  test('is a reading of the longest stay that nobody measured', () => {
    const garage = stay('2027-01-13', '2027-01-30', {
      storeId: 'garage',
      storeKind: 'shed',
      typedCelsius: null,
    })
    const narrowing = narrowingOfLot(lot([shed, garage, stay('2027-01-30', null)]), asOf())
    expect(narrowing).toMatchObject({ stay: 1, celsius: 12 })
  })

  test('moves the early limit later and the late limit earlier', () => {
    const of = lot([shed, stay('2027-01-13', null)])
    const narrowing = narrowingOfLot(of, asOf())
    const window = windowOf(of)
    expect(narrowing && narrowing.early > window.early).toBe(true)
    expect(narrowing && narrowing.late < window.late).toBe(true)
  })

  test('is nothing when every stay is measured', () => {
    expect(narrowingOfLot(lot([stay('2027-01-11', null)]), asOf())).toBeNull()
  })
})
