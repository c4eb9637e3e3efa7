import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { ReadingsChart } from '#app/_ui/readings-chart.tsx'
import {
  degreeLines,
  type ReadingHour,
  rangeShown,
  readingRuns,
  weeksRead,
} from '#app/_ui/readings-layout.ts'

const hourMs = 3_600_000
const start = Date.parse('2027-01-11T00:00:00Z')
const hour = (at: number, celsius = 3, isLogged = true): ReadingHour => ({
  hourMs: start + at * hourMs,
  low: celsius - 0.5,
  mean: celsius,
  high: celsius + 0.5,
  isLogged,
})
const hours = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => hour(from + i))
const draw = (read: readonly ReadingHour[], more: Partial<Parameters<typeof ReadingsChart>[0]> = {}) =>
  renderToStaticMarkup(
    <ReadingsChart
      hours={read}
      unit="C"
      timeZone="Europe/London"
      title="Temperature in the fridge"
      id="c"
      {...more}
    />,
  )

describe('the chart of readings', () => {
  const withGap = [...hours(0, 48), ...hours(60, 90), hour(200, 6, false)]

  test('breaks its line where more than six hours were not read, and hatches that time', () => {
    const html = draw(withGap)
    expect(html.match(/class="curve fine"/g)).toHaveLength(2)
    expect(html).toContain('url(#p-as)')
    expect(html.match(/class="kept-logger"/g)).toHaveLength(2)
    expect(html.match(/class="kept-typed"/g)).toHaveLength(1)
    expect(draw(hours(0, 48))).not.toContain('url(#p-as)')
  })

  test('shows a single reading as a ring when somebody read it, as a dot when a logger did', () => {
    expect(draw([...hours(0, 5), hour(30, 5, false)]).match(/<circle class="raw"/g)).toHaveLength(1)
    expect(draw([hour(0)]).match(/<circle class="dot"/g)).toHaveLength(1)
  })

  test('says freezing and what is assumed in words', () => {
    const html = draw(withGap, { unread: { celsius: { low: 2, high: 8 }, isNoted: false } })
    expect(html).toContain('>0 °C, freezing<')
    expect(html).toContain('>assumed while unread: 2 to 8 °C<')
    expect(draw(withGap, { unread: { celsius: { low: 4, high: 4 }, isNoted: true } })).toContain(
      '>noted as usual: 4 °C<',
    )
  })

  test('is read out in sentences, and has a table by week', () => {
    const html = draw(withGap)
    expect(html).toContain('role="img" aria-labelledby="ct cd"')
    expect(html).toContain(
      'Read from 11 Jan 2027 to 19 Jan 2027. 2.5 °C at the lowest, 6.5 °C at the highest. It never froze. 2 gaps of more than six hours.',
    )
    expect(html).toContain('<td class="r">78 of 168</td>')
    expect(draw([hour(0, -2)])).toContain('It went down to freezing.')
  })

  test('speaks the reader’s unit', () => {
    const html = draw(withGap, { unit: 'F' })
    expect(html).toContain('32 °F, freezing')
    expect(html).not.toContain('°C')
  })

  test('draws nothing without readings', () => {
    expect(draw([])).toBe('')
  })
})

describe('where things go on it', () => {
  const anyHours = fc
    .array(
      fc.record({
        step: fc.integer({ min: 1, max: 400 }),
        celsius: fc.double({ min: -40, max: 50, noNaN: true }),
      }),
      {
        minLength: 1,
        maxLength: 60,
      },
    )
    .map((steps) => {
      let at = 0
      return steps.map(({ step, celsius }) => {
        at += step
        return hour(at, celsius, step % 2 === 0)
      })
    })

  test('runs keep the order, the extremes and every gap, however long the time', () => {
    fc.assert(
      fc.property(anyHours, (read) => {
        const runs = readingRuns(read)
        const points = runs.flatMap((run) => run.points)
        expect(Math.min(...points.map(({ low }) => low))).toBe(Math.min(...read.map(({ low }) => low)))
        expect(Math.max(...points.map(({ high }) => high))).toBe(Math.max(...read.map(({ high }) => high)))
        for (const [i, run] of runs.entries()) {
          const before = runs[i - 1]
          if (before) expect(run.fromMs - before.toMs).toBeGreaterThan(6 * hourMs)
        }
      }),
    )
  })

  test('half a year of hours is drawn with few points', () => {
    const [run] = readingRuns(hours(0, 24 * 184))
    expect(run?.points.length).toBeLessThanOrEqual(242)
  })

  test('the range holds all readings, freezing and what is assumed, with at most six lines', () => {
    fc.assert(
      fc.property(anyHours, fc.constantFrom('C', 'F'), (read, unit) => {
        const assumed = { low: 2, high: 8 }
        const range = rangeShown(read, assumed)
        for (const celsius of [0, 2, 8, ...read.flatMap(({ low, high }) => [low, high])]) {
          expect(celsius).toBeGreaterThanOrEqual(range.low)
          expect(celsius).toBeLessThanOrEqual(range.high)
        }
        const lines = degreeLines(range, unit)
        expect(lines.length).toBeGreaterThan(0)
        expect(lines.length).toBeLessThanOrEqual(6)
      }),
    )
  })

  test('weeks without readings are left out of the table', () => {
    const weeks = weeksRead([...hours(0, 24), ...hours(24 * 15, 24 * 16)])
    expect(weeks.map(({ fromMs, hours: read }) => [(fromMs - start) / hourMs / 24, read])).toEqual([
      [0, 24],
      [14, 24],
    ])
  })
})
