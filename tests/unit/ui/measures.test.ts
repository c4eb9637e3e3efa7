import { expect, test } from 'vitest'
import {
  counted,
  height,
  length,
  numeral,
  spokenShare,
  temperature,
  temperatureRange,
  toCelsius,
  toCentimetres,
} from '#app/_ui/measures.ts'

test('a temperature is said in the unit of the person, with a true minus', () => {
  expect(temperature(4, 'C')).toBe('4 °C')
  expect(temperature(-1.25, 'C')).toBe('−1.2 °C')
  expect(temperature(4, 'F')).toBe('39 °F')
  expect(temperature(-0.01, 'C')).toBe('0 °C')
  expect(temperatureRange(5, 25, 'C')).toBe('5 to 25 °C')
})

// 32 °F = 0 °C, 212 °F = 100 °C and 1 in = 2.54 cm are exact by definition.
test('what was typed in a unit comes back in ours', () => {
  expect(toCelsius(212, 'F')).toBeCloseTo(100, 12)
  expect(toCelsius(32, 'F')).toBe(0)
  expect(toCentimetres(8, 'in')).toBeCloseTo(20.32, 12)
})

test('lengths are rounded to what a person measures', () => {
  expect(length(20, 'cm')).toBe('20 cm')
  expect(length(20, 'in')).toBe('8 in')
  expect(height(1.05, 'cm')).toBe('1.05 m')
  expect(height(1.05, 'in')).toBe('3.5 ft')
})

test('a modelled share is rounded to 5 or 10 and never given to the last digit', () => {
  expect(spokenShare(0.004)).toBe('hardly any')
  expect(spokenShare(0.11)).toBe('about 10 %')
  expect(spokenShare(0.217)).toBe('about 20 %')
  expect(spokenShare(0.44)).toBe('about 40 %')
  expect(spokenShare(0.96)).toBe('about 95 %')
  expect(spokenShare(1.3)).toBe('all of it')
})

test('counts agree with their noun', () => {
  expect(counted(1, 'stick')).toBe('1 stick')
  expect(counted(0, 'stick')).toBe('0 sticks')
  expect(counted(2, 'branch', 'branches')).toBe('2 branches')
  expect([numeral(2), numeral(12)]).toEqual(['Two', '12'])
})
