import { describe, expect, it } from 'vitest'
import { chillingHours } from '#lib/viability/chilling-hours.ts'
import { dynamicChillPortions } from '#lib/viability/dynamic-chill-portions.ts'
import { growingDegreeHours } from '#lib/viability/growing-degree-hours.ts'
import { utahChillUnits } from '#lib/viability/utah-chill-units.ts'
import reference from './data/viability-chill.json' with { type: 'json' }

/** Half a millionth: the printed values have nine or ten figures. */
const figures = 6

const hourly = (runs: readonly (readonly number[])[]): number[] =>
  runs.flatMap(([hours = 0, celsius = 0]) => Array<number>(hours).fill(celsius))
const inWords = (runs: readonly (readonly number[])[]) =>
  runs.map(([hours, celsius]) => `${hours} h at ${celsius} °C`).join(', ')

describe('chillR 0.77 in R 4.2.2', () => {
  it('gives the same Utah units for every hour, above each bound and on it', () => {
    for (const [celsius = 0, units = 0] of reference.utahPerHour) {
      expect(utahChillUnits([celsius]), `${celsius} °C`).toBeCloseTo(units, figures)
    }
  })

  it('counts the same hours as chilling; 45 °F is none', () => {
    for (const [celsius = 0, hours] of reference.chillingPerHour) {
      expect(chillingHours([celsius]), `${celsius} °C`).toBe(hours)
    }
  })

  it('gives the same growing degree hours', () => {
    for (const [celsius = 0, degreeHours = 0] of reference.growingDegreePerHour) {
      expect(growingDegreeHours([celsius]), `${celsius} °C`).toBeCloseTo(degreeHours, figures)
    }
  })

  for (const { runs, portions } of reference.portions) {
    it(`makes ${portions} portions of ${inWords(runs)}`, () => {
      expect(dynamicChillPortions(hourly(runs))).toBeCloseTo(portions, figures)
    })
  }

  it('makes its first portion at 6 °C on reading 30', () => {
    expect(dynamicChillPortions(hourly([[29, 6]]))).toBe(0)
    expect(dynamicChillPortions(hourly([[30, 6]]))).toBeGreaterThan(0.9)
  })

  for (const { runs, portions } of reference.thirtyDaysOf) {
    it(`makes ${portions} portions of thirty days of ${inWords(runs)}`, () => {
      const days = Array.from({ length: 30 }, () => hourly(runs)).flat()
      expect(dynamicChillPortions(days)).toBeCloseTo(portions, figures)
    })
  }

  it('agrees on a fridge, a porch and the fridge again by all four measures', () => {
    const { runs, ...expected } = reference.history
    const hours = hourly(runs)
    expect(dynamicChillPortions(hours)).toBeCloseTo(expected.portions, figures)
    expect(utahChillUnits(hours)).toBeCloseTo(expected.utahUnits, figures)
    expect(chillingHours(hours)).toBe(expected.chillingHours)
    expect(growingDegreeHours(hours)).toBeCloseTo(expected.growingDegreeHours, figures)
  })

  it('gives more growing degree hours to a day that swings than to its mean', () => {
    const { mean, swing, hours, ...expected } = reference.sine
    const swinging = Array.from(
      { length: hours },
      (_, hour) => mean + swing * Math.sin((2 * Math.PI * hour) / 24),
    )
    expect(growingDegreeHours(swinging)).toBeCloseTo(expected.growingDegreeHours, figures)
    expect(growingDegreeHours(hourly([[hours, mean]]))).toBeCloseTo(expected.ofDailyMean, 1)
  })

  it('makes most portions a day in a fridge near 7 °C, and hardly any at 0 °C', () => {
    for (const [celsius = 0, perDay = 0] of reference.portionsPerDay) {
      expect(dynamicChillPortions(hourly([[720, celsius]])) / 30, `${celsius} °C`).toBeCloseTo(perDay, 3)
    }
  })

  it('would give another number with 273.15 for 273', () => {
    const { runs, portions, offset } = reference.wrongKelvinOffset
    const shifted = hourly(runs).map((celsius) => celsius + offset - 273)
    expect(dynamicChillPortions(shifted)).toBeCloseTo(portions, 4)
    expect(dynamicChillPortions(hourly(runs))).not.toBeCloseTo(portions, 1)
  })
})
