import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { sharedAxis } from '#app/_ui/chart-scale.ts'
import { MiniAxis, MiniWindow } from '#app/_ui/mini-window.tsx'
import { KeepingState } from '#app/_ui/state-word.tsx'
import { civilDate } from '#lib/kernel/civil-date.ts'

const today = civilDate('2027-02-04')
const cut = civilDate('2027-01-11')
const window = {
  early: civilDate('2027-03-15'),
  likely: civilDate('2027-06-08'),
  late: civilDate('2027-09-15'),
  limitedBy: 'reserve' as const,
}

describe('the axis that rows share', () => {
  test('is whole months around all windows, today and the swap', () => {
    const axis = sharedAxis([{ cut, late: window.late }], today, civilDate('2027-10-02'))
    expect(axis).toEqual({ from: '2027-01-01', to: '2027-11-01' })
  })

  test('is not stretched by one that keeps for years', () => {
    const axis = sharedAxis([{ cut, late: civilDate('2031-01-01') }], today)
    expect(axis).toEqual({ from: '2027-01-01', to: '2028-02-25' })
  })

  test('of no rows at all still holds today', () => {
    expect(sharedAxis([], today)).toEqual({ from: '2027-02-01', to: '2027-03-01' })
  })
})

describe('a window in a row', () => {
  test('that ends on the axis is cut on the slant there', () => {
    const axis = sharedAxis([{ cut, late: window.late }], today)
    const html = renderToStaticMarkup(<MiniWindow axis={axis} cut={cut} window={window} today={today} />)
    expect(html).toContain('h5.4L0 12z')
    expect(html).toContain('aria-label="Cut 11 Jan. Early mid Mar, likely early Jun, late mid Sep."')
  })

  test('that goes on after the axis is left open', () => {
    const axis = { from: civilDate('2027-01-01'), to: civilDate('2027-07-01') }
    const html = renderToStaticMarkup(<MiniWindow axis={axis} cut={cut} window={window} today={today} />)
    expect(html).not.toContain('L0 12z')
    expect(html).not.toMatch(/width="-/)
  })

  test('draws no today and no swap that are off the axis', () => {
    const axis = { from: civilDate('2027-03-01'), to: civilDate('2027-07-01') }
    const html = renderToStaticMarkup(
      <MiniWindow axis={axis} cut={cut} window={window} today={today} swap={civilDate('2027-08-01')} />,
    )
    expect(html).not.toContain('class="today"')
    expect(html).not.toContain('class="swap"')
  })
})

test('the words today and swap are stacked where they would run into each other', () => {
  const axis = { from: civilDate('2026-11-01'), to: civilDate('2027-10-01') }
  const apart = renderToStaticMarkup(<MiniAxis axis={axis} today={today} swap={civilDate('2027-02-21')} />)
  const crowded = renderToStaticMarkup(
    <MiniAxis axis={axis} today={civilDate('2026-11-04')} swap={civilDate('2026-11-21')} />,
  )
  expect(apart).toContain('height="36"')
  expect(crowded).toContain('height="50"')
})

test('a held lot is on hold, whatever its window says', () => {
  expect(renderToStaticMarkup(<KeepingState window={window} today={today} />)).toContain('Good')
  expect(renderToStaticMarkup(<KeepingState window={window} today={today} held />)).toContain('On hold')
})
