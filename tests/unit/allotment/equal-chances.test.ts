import chiSquareCdf from '@stdlib/stats-base-dists-chisquare-cdf'
import { describe, expect, it } from 'vitest'
import { runDraw } from '#lib/allotment/run-draw.ts'

/** 10,000 throws of five dice in a fixed order: the numbers from 0 written in base six, each digit one die. */
const throws = Array.from({ length: 10_000 }, (_, i) =>
  [...i.toString(6).padStart(6, '0')].map((digit) => Number(digit) + 1).join(' '),
)

const people = ['ANN', 'BEN', 'CAT', 'DAN', 'EVA', 'FAY', 'GUS', 'HAL']

/** How often each person wins the one share of a lot that all want. */
function wins(isDonor: (memberCode: string) => boolean, ticketsPerDonor: number): readonly number[] {
  const counts = new Map(people.map((memberCode) => [memberCode, 0]))
  for (const dice of throws) {
    const { allotments } = runDraw({
      dice,
      rules: { capPerMember: 1, capPerVariety: 1, ticketsPerDonor },
      offerings: [{ lotCode: '4TK-7WA', variety: 'bramley', shares: 1, sticksPerShare: 2 }],
      entrants: people.map((memberCode) => ({
        memberCode,
        wishes: ['4TK-7WA'],
        isDonor: isDonor(memberCode),
      })),
    })
    for (const { memberCode } of allotments) counts.set(memberCode, (counts.get(memberCode) ?? 0) + 1)
  }
  return [...counts.values()]
}

/** Pearson’s chi-square test: the chance of counts as uneven as these if the expected shares were the true ones. */
function pearsonP(counts: readonly number[], shares: readonly number[]): number {
  const total = counts.reduce((sum, count) => sum + count, 0)
  const of = shares.reduce((sum, share) => sum + share, 0)
  const statistic = counts.reduce((sum, count, i) => {
    const expected = (total * (shares[i] ?? 0)) / of
    return sum + (count - expected) ** 2 / expected
  }, 0)
  return 1 - chiSquareCdf(statistic, counts.length - 1)
}

describe('over 10,000 throws of the dice', () => {
  it('everybody with one ticket wins equally often, as far as chance allows', () => {
    const counts = wins(() => false, 1)
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(10_000)
    expect(pearsonP(counts, [1, 1, 1, 1, 1, 1, 1, 1])).toBeGreaterThan(0.01)
  })

  it('two tickets win twice as often as one', () => {
    const counts = wins((memberCode) => memberCode < 'CAT', 2)
    expect(pearsonP(counts, [2, 2, 1, 1, 1, 1, 1, 1])).toBeGreaterThan(0.01)
    expect(pearsonP(counts, [1, 1, 1, 1, 1, 1, 1, 1])).toBeLessThan(1e-9)
  })
})
