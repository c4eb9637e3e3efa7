import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { SumTable } from '#app/_ui/sum-table.tsx'
import { StickTally } from '#app/_ui/tally.tsx'

const count = (html: string, what: string) => html.split(what).length - 1

describe('a stick tally', () => {
  test('draws one mark for one stick, in fives', () => {
    const html = renderToStaticMarkup(
      <StickTally
        parts={[
          { kind: 'handed', count: 4 },
          { kind: 'claimed', count: 3 },
          { kind: 'free', count: 2 },
          { kind: 'backup', count: 1 },
          { kind: 'spoiled', count: 1 },
        ]}
      />,
    )
    expect(count(html, '<svg')).toBe(3)
    expect(count(html, 'class="f"')).toBe(5)
    expect(count(html, 'class="o"')).toBe(6)
    expect(count(html, 'class="h"')).toBe(3)
    expect(count(html, 'class="tie"')).toBe(1)
    expect(count(html, 'class="x"')).toBe(1)
    expect(html).toContain(
      'aria-label="11 sticks: 4 handed over, 3 claimed, 2 free, 1 kept for the group tree, 1 spoiled or lost"',
    )
  })

  test('draws as many outlines as there are free sticks', () => {
    fc.assert(
      fc.property(fc.nat({ max: 120 }), (free) => {
        const html = renderToStaticMarkup(<StickTally parts={[{ kind: 'free', count: free }]} />)
        expect(count(html, 'class="o"')).toBe(free)
        expect(count(html, '<svg')).toBe(Math.ceil(free / 5))
      }),
    )
  })

  test('of none says so', () => {
    expect(renderToStaticMarkup(<StickTally parts={[{ kind: 'free', count: 0 }]} />)).toContain('No sticks')
  })
})

describe('a sum', () => {
  const rows = [
    { label: 'Claimed', count: 7 },
    { label: 'Free', count: 11 },
  ]

  test('has its double rule where the parts add up', () => {
    const html = renderToStaticMarkup(<SumTable rows={rows} total={{ label: 'Cut', count: 18 }} />)
    expect(html).toContain('<dt class="t">Cut</dt><dd class="t">18</dd>')
    expect(html).not.toContain('come to')
  })

  test('that does not add up says so and has none', () => {
    const html = renderToStaticMarkup(<SumTable rows={rows} total={{ label: 'Cut', count: 20 }} />)
    expect(html).toContain('<dd class="t open">20</dd>')
    expect(html).toContain('The parts come to 18, not 20.')
  })
})
