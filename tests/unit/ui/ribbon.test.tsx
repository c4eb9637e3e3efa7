import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { collide, narrowest } from '#app/_ui/chart-scale.ts'
import type { KeepingWindow } from '#app/_ui/keeping-window.ts'
import { ViabilityRibbon } from '#app/_ui/ribbon.tsx'
import { describeRibbon, ribbonEnd, ribbonLayout } from '#app/_ui/ribbon-layout.ts'
import { addDays, civilDate } from '#lib/kernel/civil-date.ts'
import { windowState } from '#lib/viability/window-state.ts'

const cut = civilDate('2027-01-11')
const today = civilDate('2027-02-04')
const swap = civilDate('2027-02-21')
const window: KeepingWindow = {
  early: civilDate('2027-03-15'),
  likely: civilDate('2027-06-08'),
  late: civilDate('2027-09-15'),
  limitedBy: 'reserve',
}
const shortLived: KeepingWindow = {
  early: addDays(today, -1),
  likely: addDays(today, 2),
  late: addDays(today, 5),
  limitedBy: 'water',
}

describe('the words of the ribbon', () => {
  const html = renderToStaticMarkup(
    <ViabilityRibbon
      cut={cut}
      window={window}
      today={today}
      swap={swap}
      stints={[
        { from: cut, to: civilDate('2027-01-30'), basis: 'typed' },
        { from: civilDate('2027-01-30'), to: null, basis: 'assumed' },
      ]}
      id="lot"
    />,
  )

  test('name the limits in thirds of a month and the clock that limits', () => {
    expect(html).toContain('>Early: mid Mar<')
    expect(html).toContain('>Likely limit: early Jun, food reserve<')
    expect(html).toContain('>Late: mid Sep<')
    expect(html).not.toMatch(/(Early|Likely limit|Late): \d/)
  })

  test('say which day today is and when the swap is', () => {
    expect(html).toContain('>today, day 24<')
    expect(html).toContain('>swap 21 Feb<')
  })

  test('are read out as a description that belongs to the drawing', () => {
    expect(html).toContain('role="img" aria-labelledby="lott lotd"')
    expect(html).toContain('<desc id="lotd">Cut 11 Jan. Early limit: mid Mar;')
    expect(html).toContain('Today is day 24: good. The swap is on 21 Feb: by then good.')
  })

  test('draw each stay by how its temperature is known', () => {
    expect(html).toContain('class="kept-typed"')
    expect(html).toContain('fill="url(#p-as)"')
    expect(html).toContain('class="kept-next"')
  })
})

test('wood that keeps under three weeks is spoken of in days', () => {
  const words = ribbonLayout({ cut: addDays(today, -3), window: shortLived, today, swap: null })
  expect(words.likely.text).toBe('Likely limit: about 2 days, drying out')
  expect(words.early.text).toBe('Early: about a day ago')
  expect(words.ticks.map((tick) => tick.label)).toContain('3 Feb')
})

test('without a swap, or with one before the cut, no swap is drawn or spoken of', () => {
  for (const none of [null, civilDate('2026-12-01')]) {
    const html = renderToStaticMarkup(
      <ViabilityRibbon cut={cut} window={window} today={today} swap={none} stints={[]} />,
    )
    expect(html).not.toContain('swap')
  }
})

test('a swap that lies too far off is named but not drawn', () => {
  const html = renderToStaticMarkup(
    <ViabilityRibbon
      cut={addDays(today, -3)}
      window={shortLived}
      today={today}
      swap={addDays(today, 90)}
      stints={[]}
    />,
  )
  expect(html).toContain('swap 5 May, after this chart')
  expect(html).not.toContain('class="swap"')
})

test('a today long after the end is said to be off the chart, and its line is not drawn', () => {
  const html = renderToStaticMarkup(
    <ViabilityRibbon cut={cut} window={window} today={addDays(cut, 700)} stints={[]} />,
  )
  expect(html).toContain('today, day 700, off this chart')
  expect(html).not.toContain('class="today"')
  expect(html).not.toContain('class="kept-next"')
})

test('the day of a limit belongs to what comes after it', () => {
  expect(windowState(window, addDays(window.early, -1))).toBe('good')
  expect(windowState(window, window.early)).toBe('soon')
  expect(windowState(window, window.likely)).toBe('test')
  expect(windowState(window, window.late)).toBe('past')
})

describe('for any window', () => {
  const anyDates = fc
    .record({
      early: fc.integer({ min: 0, max: 400 }),
      soon: fc.integer({ min: 0, max: 300 }),
      test: fc.integer({ min: 0, max: 300 }),
      age: fc.integer({ min: 0, max: 1200 }),
      swapIn: fc.option(fc.integer({ min: 0, max: 600 })),
    })
    .map(({ early, soon, test: testFirst, age, swapIn }) => ({
      cut,
      window: {
        early: addDays(cut, early),
        likely: addDays(cut, early + soon),
        late: addDays(cut, early + soon + testFirst),
        limitedBy: 'bud-break' as const,
      },
      today: addDays(cut, age),
      swap: swapIn === null ? null : addDays(cut, swapIn),
    }))

  test('the late mark is on the chart and the window fills at least half of it', () => {
    fc.assert(
      fc.property(anyDates, (dates) => {
        const late = ribbonLayout(dates).scale(dates.window.late)
        expect(late).toBeLessThanOrEqual(100)
        expect(ribbonEnd(dates) > dates.window.late).toBe(true)
        if (dates.window.late > addDays(cut, 8)) expect(late).toBeGreaterThan(50)
      }),
    )
  })

  test('no label leaves a phone or touches another of its row', () => {
    fc.assert(
      fc.property(anyDates, (dates) => {
        const { early, likely, late } = ribbonLayout(dates)
        for (const label of [early, likely, late]) {
          expect(label.from).toBeGreaterThanOrEqual(0)
          expect(label.to).toBeLessThanOrEqual(narrowest)
        }
        expect(early.row === late.row && collide(early, late)).toBe(false)
        expect(likely.row).toBe(0)
      }),
    )
  })

  test('the description has no day of the month for a limit of long-lived wood', () => {
    fc.assert(
      fc.property(anyDates, (dates) => {
        fc.pre(dates.window.likely >= addDays(cut, 21))
        expect(describeRibbon(dates)).not.toMatch(/limit: (about )?\d/)
      }),
    )
  })
})
