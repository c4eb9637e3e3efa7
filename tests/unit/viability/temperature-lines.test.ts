import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { parseTemperature, temperatureLines } from '#lib/viability/temperature-lines.ts'

const read = (text: string) =>
  temperatureLines(text).lines.map(({ wallMs, celsius }) => [
    new Date(wallMs).toISOString().slice(0, 16),
    celsius,
  ])
const faults = (text: string) => temperatureLines(text).bad.map(({ line, why }) => [line, why])

describe('a temperature that was typed', () => {
  it.each([
    ['4', 4],
    ['3,5', 3.5],
    ['-1 °C', -1],
    ['−1.5', -1.5],
    ['39.2 F', 4],
    ['32°f', 0],
  ])('%s is %d °C', (text, celsius) => {
    expect(parseTemperature(text)).toBeCloseTo(celsius, 6)
  })

  it.each(['', 'cold', '4 K', '80', '-41', '4 5', '1e3'])('%j is none', (text) => {
    expect(parseTemperature(text)).toBeNull()
  })
})

describe('pasted temperatures', () => {
  it('are a day, a time if there is one, and degrees, however they are parted', () => {
    expect(
      read(
        [
          '2027-01-11 4',
          '2027-01-12;3,5',
          '2027-01-13 08:30, 2.5',
          '2027-01-14T9:05:30Z\t-1 °C',
          '2027-01-15T14:00:00+01:00,39.2 F',
          '2027-01-16 06:00 −2',
        ].join('\n'),
      ),
    ).toEqual([
      ['2027-01-11T12:00', 4],
      ['2027-01-12T12:00', 3.5],
      ['2027-01-13T08:30', 2.5],
      ['2027-01-14T09:05', -1],
      ['2027-01-15T14:00', 4],
      ['2027-01-16T06:00', -2],
    ])
  })

  it('may have a head without figures, empty lines, any order, and lines twice', () => {
    const text =
      'Time, Temperature °C\r\n\r\n2027-01-12 10:00, 3\r\n2027-01-11 10:00, 2\r\n2027-01-12 10:00, 3\r\n'
    expect(read(text)).toEqual([
      ['2027-01-11T10:00', 2],
      ['2027-01-12T10:00', 3],
    ])
    expect(faults(text)).toEqual([])
  })

  it('name every line that cannot be used', () => {
    expect(
      faults(
        [
          '2027-01-11 4',
          '11.01.2027 4',
          '2027-02-30 4',
          '2027-01-13 24:30 4',
          '2027-01-13',
          '2027-01-14 88',
          '2027-01-11 5',
          'no figures here',
        ].join('\n'),
      ),
    ).toEqual([
      [2, 'not-read'],
      [3, 'no-such-day'],
      [4, 'no-such-day'],
      [5, 'not-read'],
      [6, 'absurd-temperature'],
      [7, 'same-moment'],
      [8, 'not-read'],
    ])
  })

  it('are read or named, line for line, whatever is pasted', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(fc.string(), fc.constantFrom('2027-01-11 4', '2027-01-12 5 F'))),
        (rows) => {
          const { lines, bad } = temperatureLines(rows.join('\n'))
          expect(
            lines.every(({ celsius, wallMs }) => Number.isFinite(celsius) && Number.isFinite(wallMs)),
          ).toBe(true)
          const places = [...lines, ...bad].map(({ line }) => line)
          expect(new Set(places).size).toBe(places.length)
        },
      ),
    )
  })
})
