import { describe, expect, it } from 'vitest'
import { deferredAcceptance } from '#lib/allotment/deferred-acceptance.ts'

/** Rankings of one side by the other, the best first. */
type Rankings = Readonly<Record<string, readonly string[]>>

/** The men's and women's rankings of a table as the paper prints it: “1,3” is his first choice, and he her third. */
function rankingsOf(table: Readonly<Record<string, string>>, women: readonly string[]) {
  const cells = Object.entries(table).map(([man, row]) => ({
    man,
    pairs: row.split(' ').map((cell) => cell.split(',').map(Number)),
  }))
  const rankOf = (man: string, woman: string, side: 0 | 1) =>
    cells.find((row) => row.man === man)?.pairs[women.indexOf(woman)]?.[side] ?? Number.NaN
  const men = cells.map(({ man }) => man)
  const ranked = (of: readonly string[], rank: (name: string) => number) =>
    of.toSorted((a, b) => rank(a) - rank(b))
  return {
    men: Object.fromEntries(men.map((man) => [man, ranked(women, (woman) => rankOf(man, woman, 0))])),
    women: Object.fromEntries(women.map((woman) => [woman, ranked(men, (man) => rankOf(man, woman, 1))])),
  }
}

const byRank = (ranking: readonly string[] | undefined) => (a: string, b: string) =>
  (ranking?.indexOf(a) ?? -1) - (ranking?.indexOf(b) ?? -1)

/** Everybody asks for one, and everybody keeps so many. */
function marry(asking: Rankings, answering: Rankings, quotas: Readonly<Record<string, number>> = {}) {
  const kept = deferredAcceptance({
    wishes: new Map(Object.entries(asking)),
    chosenBy: (_, lots) => lots.slice(0, 1),
    keptBy: (lot, seekers) => seekers.toSorted(byRank(answering[lot])).slice(0, quotas[lot] ?? 1),
  })
  return Object.fromEntries([...kept].flatMap(([lot, seekers]) => seekers.map((seeker) => [seeker, lot])))
}

function* arrangements(women: readonly string[]): Generator<readonly string[]> {
  if (women.length === 0) yield []
  for (const [i, woman] of women.entries()) {
    for (const rest of arrangements(women.toSpliced(i, 1))) yield [woman, ...rest]
  }
}

/** All marriages in which no man and woman would both rather have each other, by trying every one. */
function stableMarriages(men: Rankings, women: Rankings) {
  return [...arrangements(Object.keys(women))]
    .map((wives) => Object.fromEntries(Object.keys(men).map((man, i) => [man, wives[i] ?? ''])))
    .filter((wifeOf) =>
      Object.entries(men).every(([man, ranking]) =>
        ranking.slice(0, ranking.indexOf(wifeOf[man] ?? '')).every((woman) => {
          const husband = Object.keys(wifeOf).find((other) => wifeOf[other] === woman) ?? ''
          return byRank(women[woman])(husband, man) < 0
        }),
      ),
    )
}

/**
 * The two tables of marriages in Gale & Shapley 1962, American Mathematical Monthly 69(1):9–15, written down from
 * memory; what the paper says of each is checked here by trying all 6 and all 24 arrangements.
 */
describe('the examples of Gale and Shapley', () => {
  const first = rankingsOf({ α: '1,3 2,2 3,1', β: '3,1 1,3 2,2', γ: '2,2 3,1 1,3' }, ['A', 'B', 'C'])
  const second = rankingsOf(
    { α: '1,3 2,3 3,2 4,3', β: '1,4 4,1 3,3 2,2', γ: '2,2 1,4 3,4 4,1', δ: '4,1 2,2 3,1 1,4' },
    ['A', 'B', 'C', 'D'],
  )

  it('have three stable arrangements of the six in the first, of which asking men get the best for all men', () => {
    expect(stableMarriages(first.men, first.women)).toHaveLength(3)
    expect(marry(first.men, first.women)).toEqual({ α: 'A', β: 'B', γ: 'C' })
  })

  it('give the women their first choice when they ask', () => {
    expect(marry(first.women, first.men)).toEqual({ A: 'β', B: 'γ', C: 'α' })
  })

  it('have a single stable arrangement in the second, where nobody gets a first choice', () => {
    const only = { α: 'C', β: 'D', γ: 'A', δ: 'B' }
    expect(stableMarriages(second.men, second.women)).toEqual([only])
    expect(marry(second.men, second.women)).toEqual(only)
    expect(marry(second.women, second.men)).toEqual({ C: 'α', D: 'β', A: 'γ', B: 'δ' })
    expect(Object.entries(only).some(([man, woman]) => second.men[man]?.[0] === woman)).toBe(false)
  })
})

describe('deferred acceptance', () => {
  it('fills a lot of two with the two it likes best and leaves the third out', () => {
    const people = { a: ['X'], b: ['X'], c: ['X'] }
    expect(marry(people, { X: ['c', 'a', 'b'] }, { X: 2 })).toEqual({ a: 'X', c: 'X' })
  })

  it('ends at once when nobody wishes for anything', () => {
    expect(marry({ a: [], b: [] }, {})).toEqual({})
  })
})
