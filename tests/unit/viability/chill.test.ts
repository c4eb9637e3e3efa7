import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { advanceChill } from '#lib/viability/advance-chill.ts'
import { chillRates } from '#lib/viability/chill-rates.ts'
import { chillingHours } from '#lib/viability/chilling-hours.ts'
import { dynamicChillPortions } from '#lib/viability/dynamic-chill-portions.ts'
import { growingDegreeHours } from '#lib/viability/growing-degree-hours.ts'
import { hoursToPortion } from '#lib/viability/hours-to-portion.ts'
import { utahChillUnits } from '#lib/viability/utah-chill-units.ts'
import { naiveChillHour } from '#tests/unit/viability/naive-window.ts'

const published = { chillingHours, utahChillUnits, dynamicChillPortions, growingDegreeHours }
const unchilled = { portions: 0, intermediate: 0 }
const temperatures = fc.double({ min: -20, max: 40, noNaN: true })
const wholeHours = fc.integer({ min: 0, max: 3000 })

describe('the four published measures', () => {
  for (const [name, measure] of Object.entries(published)) {
    it(`${name} is 0 of no reading, and leaves its readings as they were`, () => {
      expect(measure([])).toBe(0)
      const readings = Object.freeze([4, 15, 4])
      expect(measure(readings)).toBe(measure([4, 15, 4]))
    })

    it(`${name} refuses what is no temperature, and says which reading`, () => {
      for (const odd of [Number.NaN, Infinity, -Infinity, -273, -1e300]) {
        expect(() => measure([4, odd])).toThrow(new RangeError(`Reading 2 is no temperature in °C: ${odd}`))
      }
    })

    it(`${name} is a number for every temperature there is`, () => {
      const anyTemperature = fc.double({ min: -272.999, noNaN: true, noDefaultInfinity: true })
      fc.assert(
        fc.property(fc.array(anyTemperature), (readings) => Number.isFinite(measure(readings))),
        { examples: [[[-272.999, 1e308, 6, 6]], [[Number.MAX_VALUE, -272.999]]] },
      )
    })
  }

  it('are the same in any order of the hours, but for the Dynamic Model', () => {
    const [cold, warm] = [Array<number>(500).fill(4), Array<number>(300).fill(15)]
    for (const measure of [chillingHours, utahChillUnits, growingDegreeHours]) {
      expect(measure([...cold, ...warm])).toBeCloseTo(measure([...warm, ...cold]), 9)
    }
    const swinging = Array.from({ length: 800 }, (_, hour) => (hour % 16 < 10 ? 4 : 15))
    expect(
      Math.abs(dynamicChillPortions(swinging) - dynamicChillPortions([...cold, ...warm])),
    ).toBeGreaterThan(1)
  })
})

describe('chilling at a steady temperature, without going through the hours', () => {
  const byTheHour = (state: typeof unchilled, celsius: number, hours: number) => {
    const naive = { x: state.intermediate, portions: state.portions }
    for (let hour = 0; hour < hours; hour++) naiveChillHour(naive, celsius)
    return { portions: naive.portions, intermediate: naive.x }
  }

  it('equals the hourly model to 1 in 10⁹, from wherever another temperature has left the wood', () => {
    fc.assert(
      fc.property(temperatures, wholeHours, temperatures, wholeHours, (before, first, celsius, hours) => {
        const start = byTheHour(unchilled, before, first)
        const expected = byTheHour(start, celsius, hours)
        const { portions, intermediate } = advanceChill(start, celsius, hours)
        expect(Math.abs(portions - expected.portions)).toBeLessThan(1e-9 * Math.max(1, expected.portions))
        expect(Math.abs(intermediate - expected.intermediate)).toBeLessThan(
          1e-9 * Math.max(1, expected.intermediate),
        )
      }),
      { numRuns: 400 },
    )
  })

  it('equals it at every tenth of a degree that the storage clock uses, for a year', () => {
    for (let tenths = -20; tenths <= 100; tenths++) {
      const expected = byTheHour(unchilled, tenths / 10, 8760)
      const { portions } = advanceChill(unchilled, tenths / 10, 8760)
      expect(Math.abs(portions - expected.portions), `${tenths / 10} °C`).toBeLessThan(1e-8)
    }
  })

  it('is the same in one stretch as in two', () => {
    fc.assert(
      fc.property(temperatures, wholeHours, wholeHours, (celsius, first, second) => {
        const inOne = advanceChill(unchilled, celsius, first + second)
        const inTwo = advanceChill(advanceChill(unchilled, celsius, first), celsius, second)
        expect(inTwo.portions).toBeCloseTo(inOne.portions, 8)
        expect(inTwo.intermediate).toBeCloseTo(inOne.intermediate, 8)
      }),
    )
  })

  it('agrees with the published function, whose last reading only ends the last hour', () => {
    const readings = Array<number>(1001).fill(5.5)
    expect(advanceChill(unchilled, 5.5, 1000).portions).toBeCloseTo(dynamicChillPortions(readings), 9)
  })

  it('comes to the first portion after 29 hours at 6 °C, after one with nearly all made, never at 13 °C', () => {
    expect(hoursToPortion(0, chillRates(6))).toBe(29)
    expect(hoursToPortion(0.999, chillRates(6))).toBe(1)
    expect(hoursToPortion(0, chillRates(13))).toBe(Infinity)
  })
})
