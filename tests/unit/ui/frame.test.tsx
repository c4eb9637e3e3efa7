import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { LotCode } from '#app/_ui/code.tsx'
import { Frame, type Place } from '#app/_ui/frame.tsx'
import { VarietyName } from '#app/_ui/name.tsx'

const group = { slug: 'marrow-lane', name: 'Marrow Lane Orchard Circle', season: '2026–27' }

const frameAt = (current: Place, bare = false) =>
  renderToStaticMarkup(
    <Frame group={group} current={current} counts={{ wood: 18 }} bare={bare}>
      <h1>A page</h1>
    </Frame>,
  )

const linkWith = (html: string, mark: string) =>
  html.match(new RegExp(`<a[^>]*aria-current="${mark}"[^>]*>([^<]+)`))?.[1]

describe('the frame', () => {
  test('marks the entry of the page, and More for pages that the bar of a phone has not', () => {
    expect(linkWith(frameAt('wood'), 'page')).toBe('Wood')
    expect(linkWith(frameAt('wood'), 'true')).toBeUndefined()
    expect(linkWith(frameAt('trees'), 'page')).toBe('Trees')
    expect(linkWith(frameAt('trees'), 'true')).toBe('More')
  })

  test('has five words for a phone and the way to a lot by its code everywhere', () => {
    const html = frameAt('home')
    const items = [...html.matchAll(/<li(?: class="([^"]*)")?>/g)].map((match) => match[1] ?? '')
    expect(items.filter((where) => !where.includes('desk'))).toHaveLength(5)
    expect(html).toContain('href="/g/marrow-lane/wood/find"')
    expect(frameAt('swaps', true)).toContain('href="/g/marrow-lane/wood/find"')
  })

  test('has no index on the swap day, and one main part with the name that the skip link wants', () => {
    expect(frameAt('swaps', true)).not.toContain('<nav')
    expect(frameAt('swaps', true)).toContain('class="page shed"')
    expect(frameAt('home').match(/id="main"/g)).toHaveLength(1)
  })
})

test('a variety name stands in single typographic quotes', () => {
  expect(renderToStaticMarkup(<VarietyName name="D'Arcy Spice" />)).toBe(
    '<span class="name">‘D’Arcy Spice’</span>',
  )
  expect(renderToStaticMarkup(<VarietyName name={null} />)).toContain('No name')
})

test('a code is shown in two halves, however it is stored', () => {
  expect(renderToStaticMarkup(<LotCode code="4TK7WA" />)).toContain('4TK-7WA')
  expect(renderToStaticMarkup(<LotCode code="4TK-7WA" href="/x" />)).toContain('4TK-7WA')
})
