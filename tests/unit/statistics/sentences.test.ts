import { describe, expect, it } from 'vitest'
import { cautiousSentence } from '#lib/statistics/cautious-sentence.ts'
import { comparisonSentence } from '#lib/statistics/comparison-sentence.ts'
import { mantelHaenszel } from '#lib/statistics/mantel-haenszel.ts'

const row = (
  name: string,
  mean: number,
  low: number,
  high: number,
  shows: 'counts' | 'range' | 'rate' = 'rate',
) => ({
  name,
  mean,
  low,
  high,
  shows,
})
const table = { one: 'variety', many: 'varieties', known: 100, unknown: 0 }

describe('the sentence on a table', () => {
  it('ranks nothing where ranges overlap', () => {
    const rows = [
      row('Bramley', 0.89, 0.79, 0.96),
      row('Fiesta', 0.8, 0.61, 0.9),
      row('Cox', 1, 0.3, 1, 'counts'),
    ]
    expect(cautiousSentence({ ...table, rows, unknown: 4 })).toBe(
      'No clear difference shows between the 2 varieties that have a rate: their ranges overlap, from 61 to 96 %; 1 variety more cannot be told yet; 4 of 104 outcomes are not known.',
    )
  })

  it('names what took more often without a reason', () => {
    const rows = [
      row('Bramley', 0.89, 0.79, 0.96),
      row('Fiesta', 0.92, 0.77, 0.99),
      row('Cox', 0.5, 0.38, 0.63),
    ]
    expect(cautiousSentence({ ...table, rows })).toBe(
      'Bramley and Fiesta took more often than Cox, which says nothing of why: people chose what they tried, and part may be whose hands it was.',
    )
  })

  it('counts the names where there are many', () => {
    const rows = [...'ABCD'].map((name) => row(name, 0.9, 0.8, 0.95))
    expect(cautiousSentence({ ...table, rows: [...rows, row('Cox', 0.5, 0.38, 0.63)] })).toMatch(
      /^4 varieties took/,
    )
  })

  it('speaks of one rate as one, and of none as none', () => {
    expect(cautiousSentence({ ...table, rows: [row('Cox', 0.8, 0.6, 0.9)] })).toBe(
      'Only Cox has enough known outcomes for a rate: the next one takes with a chance of likely 60 to 90 %.',
    )
    expect(cautiousSentence({ ...table, rows: [row('Cox', 1, 0.3, 1, 'counts')] })).toBe(
      'No variety has enough known outcomes for a rate yet.',
    )
    expect(cautiousSentence({ ...table, rows: [row('Cox', 0.7, 0.4, 0.9, 'range')] })).toBe(
      'No variety has enough known outcomes for a rate yet, and Cox may lie anywhere from 40 to 90 %.',
    )
    expect(cautiousSentence({ ...table, rows: [] })).toBe('There is nothing to compare yet.')
  })
})

describe('the sentence on two methods', () => {
  const methods = { first: 'whip-and-tongue', second: 'cleft', one: 'variety', many: 'varieties' }
  const clear = [
    [
      [40, 10],
      [25, 25],
    ],
    [
      [35, 15],
      [20, 30],
    ],
  ] as const

  it('gives the difference, its range and on how much it stands, the better one first', () => {
    const words =
      'Whip-and-tongue took 30 points more often than cleft on the 2 varieties tried both ways (range 17 to 43); people chose the method, so part may be who did it.'
    expect(comparisonSentence({ ...methods, comparison: mantelHaenszel(clear) })).toBe(words)
    const turned = clear.map(([a, b]) => [b, a] as const)
    const back = { ...methods, first: 'cleft', second: 'whip-and-tongue', comparison: mantelHaenszel(turned) }
    expect(comparisonSentence(back)).toBe(words)
  })

  it('claims no difference where none is clear', () => {
    const comparison = mantelHaenszel([
      [
        [6, 4],
        [5, 5],
      ],
    ])
    expect(comparisonSentence({ ...methods, comparison })).toMatch(
      /^There is no clear difference between whip-and-tongue and cleft yet on the one variety tried both ways/,
    )
  })

  it('compares nothing where nothing was tried both ways', () => {
    expect(comparisonSentence({ ...methods, comparison: null })).toMatch(
      /^No variety has been tried both ways/,
    )
  })
})
