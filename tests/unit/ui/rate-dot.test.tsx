import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { RateDot, rateOf, rateWords } from '#app/_ui/rate-dot.tsx'
import { summariseOutcomes } from '#lib/statistics/summarise-outcomes.ts'

const pooled = { estimate: 0.81, low: 0.7, high: 0.9 }

describe('with fewer than five known outcomes', () => {
  const rate = { took: 3, known: 4, unknown: 2, pooled }
  const html = renderToStaticMarkup(<RateDot rate={rate} mean={0.72} />)

  test('no estimate, interval or plain count is drawn, whatever was passed', () => {
    expect(html).not.toContain('<circle')
    expect(html).not.toContain('class="ci"')
    expect(html).not.toContain('p-unk')
    expect(rateWords(rate)).toBe('not enough yet')
  })

  test('the outcomes themselves cannot be read anywhere', () => {
    const other = renderToStaticMarkup(<RateDot rate={{ ...rate, took: 1 }} mean={0.72} />)
    expect(other).toBe(html)
  })

  test('a slot is filled for each known one and the rest are counted', () => {
    expect(html.match(/class="dot"/g)).toHaveLength(4)
    expect(html.match(/class="ghost"/g)).toHaveLength(1)
    expect(html).toMatch(/not enough yet, needs 1 more/)
    expect(html).toContain('aria-label="Not enough yet: 4 of 5 known outcomes."')
  })
})

describe('with enough of them', () => {
  test('estimate, interval, plain count and the range of the unknown are drawn where they belong', () => {
    const html = renderToStaticMarkup(<RateDot rate={{ took: 31, known: 36, unknown: 3, pooled }} />)
    expect(html).toContain('class="dot" cx="81.00%"')
    expect(html).toContain('class="ci" x1="70.00%" x2="90.00%"')
    expect(html).toContain('class="raw" cx="86.11%"')
    // 31 of 39 at worst, 34 of 39 at best
    expect(html).toContain('fill="url(#p-unk)" x="79.49%" y="8" width="7.69%"')
    expect(html).toContain('Estimate 81 %. Likely between 70 to 90 %. 31 of 36 known took. 3 not known.')
  })

  test('a plain interval stands in where nothing is pooled', () => {
    const rate = rateOf(summariseOutcomes([{ pieces: 22, alive: 12, dead: 3, unknown: 7, pending: 0 }]))
    // Wilson 12/15: 0.548 to 0.930 (Newcombe 1998, Statistics in Medicine 17:857, method 3, from the formula)
    expect(rateWords(rate)).toBe('55 to 93 %')
    expect(renderToStaticMarkup(<RateDot rate={rate} />)).not.toContain('class="dot"')
  })

  test('nothing unknown draws no hatching', () => {
    const html = renderToStaticMarkup(<RateDot rate={{ took: 4, known: 5, unknown: 0, pooled: null }} />)
    expect(html).not.toContain('p-unk')
    expect(html).not.toContain('class="ci"')
  })
})
