import type { WeightedCount } from '#lib/statistics/beta-binomial-terms.ts'
import { betaMixtureLimits } from '#lib/statistics/beta-mixture-limits.ts'
import { type HyperNode, hyperGrid } from '#lib/statistics/hyper-grid.ts'
import type { Interval } from '#lib/statistics/interval.ts'
import { requireLevel } from '#lib/statistics/require-level.ts'

export interface PooledRate extends Interval {
  readonly mean: number
}

export type PooledRates =
  | {
      readonly kind: 'pooled'
      /** The mean of the pool, each unit counting the same. */
      readonly mean: number
      /** Where the rate of a unit that nobody has tried yet is likely to lie. */
      readonly newUnit: Interval
      /** One for each unit, in the order given; one without trials gets the pool's own. */
      readonly rates: readonly PooledRate[]
    }
  /** Too few units tried, or none that both took and failed: each has to speak for itself. */
  | { readonly kind: 'not-pooled' }

/** With fewer units the pool tells next to nothing about how units differ. A judgement. */
const fewestUnits = 5

function requireWeighted(counts: readonly WeightedCount[]): void {
  for (const { successes, trials } of counts) {
    if (!(successes >= 0 && successes <= trials && trials < Infinity)) {
      throw new RangeError(`There cannot be ${successes} successes in ${trials} trials`)
    }
  }
}

/**
 * The expected rate of each unit, strength borrowed from the others of its pool: a hierarchical beta-binomial whose
 * prior is itself uncertain and integrated over. Two of two in it never outranks forty-five of fifty. Counts may be
 * divided by a design effect before. Throws RangeError for impossible counts and for a level outside 0 to 1.
 *
 * For units that are truly far below the rest the interval covers less than it says (74 to 91 % in simulation), as they
 * are drawn up: show the plain count beside it.
 *
 * Source: the model and prior (α + β)^(−5/2) of A. Gelman et al., Bayesian Data Analysis, chapter 5 (from memory).
 */
export function pooledRates(counts: readonly WeightedCount[], level = 0.95): PooledRates {
  requireWeighted(counts)
  requireLevel(level)
  const tried = counts.filter(({ trials }) => trials > 0)
  const isMixed = tried.some(({ successes, trials }) => successes > 0 && successes < trials)
  if (tried.length < fewestUnits || !isMixed) return { kind: 'not-pooled' }
  const nodes = hyperGrid(tried)
  const rateOf = ({ successes, trials }: WeightedCount): PooledRate => {
    const own = ownNodes(nodes, successes, trials)
    const mean = own.reduce((sum, { alpha, beta, weight }) => sum + (weight * alpha) / (alpha + beta), 0)
    return { mean, ...betaMixtureLimits(own, level) }
  }
  const known = new Map<string, PooledRate>()
  const rates = counts.map((count) => {
    const key = `${count.successes}/${count.trials}`
    const rate = known.get(key) ?? rateOf(count)
    known.set(key, rate)
    return rate
  })
  const { mean, low, high } = rateOf({ successes: 0, trials: 0 })
  return { kind: 'pooled', mean, newUnit: { low, high }, rates }
}

const ownNodes = (nodes: readonly HyperNode[], successes: number, trials: number): HyperNode[] =>
  nodes.map(({ alpha, beta, weight }) => ({
    alpha: alpha + successes,
    beta: beta + trials - successes,
    weight,
  }))
