import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { unknownFridgeCelsius } from '#lib/viability/scenarios.ts'
import { stintsOfReadings } from '#lib/viability/stints-of-readings.ts'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import { afterDays, daysOf, steady, stint, windowOf } from '#tests/unit/viability/stints.ts'

const unread = unknownFridgeCelsius
const atHour = (hour: number, celsius: number) => ({ at: afterDays(hour / 24), celsius })
const stay = (fromHour: number, toHour: number | null, readings: readonly ReturnType<typeof atHour>[]) =>
  stintsOfReadings({
    from: afterDays(fromHour / 24),
    to: toHour === null ? null : afterDays(toHour / 24),
    readings,
    basis: 'logger',
    unread,
  })

describe('a stay told by its readings', () => {
  it('is unread without any, and readings from before and after it are not its own', () => {
    const assumed = [{ from: afterDays(0), to: afterDays(2), celsius: unread, basis: 'assumed' }]
    expect(stay(0, 48, [])).toEqual(assumed)
    expect(stay(0, 48, [atHour(-1, 20), atHour(49, 20)])).toEqual(assumed)
  })

  it('follows a straight line hour by hour between readings up to six hours apart', () => {
    expect(stay(0, 4, [atHour(0, 2), atHour(4, 6)])).toEqual(
      [2.5, 3.5, 4.5, 5.5].map((celsius, hour) => stint(hour / 24, (hour + 1) / 24, celsius, 'logger')),
    )
    expect(stay(0, 6, [atHour(0, 2), atHour(6, 2)])).toHaveLength(6)
  })

  it('is unread between readings that are further apart', () => {
    expect(stay(0, 6.1, [atHour(0, 2), atHour(6.1, 2)])).toEqual([stint(0, 6.1 / 24, unread, 'assumed')])
  })

  it('holds its first and its last reading for up to six hours, and is unread beyond', () => {
    expect(stay(0, 8, [atHour(4, 3)])).toEqual([
      stint(0, 4 / 24, 3, 'logger'),
      stint(4 / 24, 8 / 24, 3, 'logger'),
    ])
    expect(stay(0, 20, [atHour(10, 3)]).map(({ basis }) => basis)).toEqual(['assumed', 'assumed'])
  })

  it('goes on at what its last day showed while the wood is still there', () => {
    const readings = [atHour(0, 30), ...[2, 5, 2, 7].map((celsius, i) => atHour(25 + 6 * i, celsius))]
    expect(stay(0, null, readings).at(-1)).toEqual(
      stint(43 / 24, null, { low: 2, mid: 4, high: 7 }, 'logger'),
    )
  })

  it('does not mind the order of the readings, nor two at one moment', () => {
    const readings = [atHour(2, 4), atHour(0, 2), atHour(2, 4)]
    expect(stay(0, null, readings)).toEqual(stay(0, null, [atHour(0, 2), atHour(2, 4)]))
  })

  it('covers the stay without hole or overlap, whatever was read', () => {
    const readings = fc.array(
      fc.record({
        hour: fc.double({ min: 0, max: 300, noNaN: true }),
        celsius: fc.integer({ min: -5, max: 20 }),
      }),
    )
    fc.assert(
      fc.property(readings, fc.integer({ min: 1, max: 300 }), (drawn, hours) => {
        const stints = stay(
          0,
          hours,
          drawn.map(({ hour, celsius }) => atHour(hour, celsius)),
        )
        expect(stints[0]?.from).toEqual(afterDays(0))
        expect(stints.at(-1)?.to).toEqual(afterDays(hours / 24))
        for (const [i, { from }] of stints.slice(1).entries()) expect(stints[i]?.to).toEqual(from)
      }),
    )
  })

  it('gives the window of a steady fridge when its logger says so, and a shorter one when it swings', () => {
    const { apple } = storageProfiles
    const days = (celsiusAt: (hour: number) => number) =>
      daysOf(
        windowOf(
          apple,
          stay(
            0,
            null,
            Array.from({ length: 721 }, (_, hour) => atHour(hour, celsiusAt(hour))),
          ),
        ),
      )
    expect(days(() => 4)).toEqual(daysOf(windowOf(apple, [{ ...stint(0, null, 4), celsius: steady(4) }])))
    expect(days((hour) => 4 + 3 * Math.sin((2 * Math.PI * hour) / 24)).likely).toBeLessThan(
      days(() => 4).likely,
    )
  })
})
