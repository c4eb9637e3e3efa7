import { describe, expect, it } from 'vitest'
import { benjaminiHochberg } from '#lib/statistics/benjamini-hochberg.ts'
import { breslowDay } from '#lib/statistics/breslow-day.ts'
import type { Stratum } from '#lib/statistics/informative-strata.ts'
import { mantelHaenszel } from '#lib/statistics/mantel-haenszel.ts'
import comparisonsR from './data/comparisons-r.json' with { type: 'json' }
import { expectNear } from './expect-near.ts'

const { plum, ledger, benjaminiHochberg: published } = comparisonsR

const sets = [
  { name: `long against short cuttings within the time of planting, ${plum.source}`, set: plum.lengthByTime },
  { name: `at once against in spring within the length, ${plum.source}`, set: plum.timeByLength },
  { name: ledger.source, set: ledger },
]

for (const { name, set } of sets) {
  describe(name, () => {
    const strata = set.strata as unknown as readonly Stratum[]

    it('has the Mantel–Haenszel odds ratio, limits and χ² of R 4.2.2', () => {
      const result = mantelHaenszel(strata)
      expectNear(result?.oddsRatio, set.or, 1e-10, 'odds ratio')
      expectNear(result?.low, set.orLimits[0] ?? NaN, 1e-10, 'low')
      expectNear(result?.high, set.orLimits[1] ?? NaN, 1e-10, 'high')
      expectNear(result?.chiSquare, set.chiSquare, 1e-10, 'χ²')
      expectNear((result?.p ?? NaN) / set.p, 1, 1e-10, 'p')
    })

    it('has the Mantel–Haenszel risk difference of R 4.2.2', () => {
      const result = mantelHaenszel(strata)?.riskDifference
      expectNear(result?.difference, set.rd, 1e-10, 'difference')
      expectNear(result?.standardError, set.rdSe, 1e-10, 'standard error')
      expectNear(result?.low, set.rdLimits[0] ?? NaN, 1e-10, 'low')
      expectNear(result?.high, set.rdLimits[1] ?? NaN, 1e-10, 'high')
    })

    it('has the Breslow–Day and Tarone statistics of R 4.2.2', () => {
      const result = breslowDay(strata)
      expect(result?.df).toBe(strata.length - 1)
      expectNear(result?.chiSquare, set.breslowDay, 1e-8, 'χ²')
      expectNear(result?.p, set.breslowDayP, 1e-8, 'p')
      expectNear(result?.tarone.chiSquare, set.tarone, 1e-8, 'Tarone')
      expectNear(result?.tarone.p, set.taroneP, 1e-8, 'Tarone’s p')
    })
  })
}

describe('p-values found in company', () => {
  it(`are raised as R’s p.adjust(p, "BH") raises ${published.source}`, () => {
    const adjusted = benjaminiHochberg(published.p)
    for (const [i, p] of published.adjusted.entries()) expectNear(adjusted[i], p, 1e-12, `p-value ${i}`)
    expect(adjusted.filter((p) => p <= 0.05)).toHaveLength(published.rejectedAt5)
  })
})
