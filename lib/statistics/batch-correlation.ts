import { requireCounts } from '#lib/statistics/require-counts.ts'

/** What became of one batch: pieces of one variety by one hand on one day. */
export interface Batch {
  readonly successes: number
  readonly trials: number
}

export interface BatchCorrelation {
  /** 0: pieces of a batch are no more alike than others; 1: they share their fate. */
  readonly rho: number
  /** Whether it was taken from the batches, or assumed because there are too few. */
  readonly isAssumed: boolean
}

/** What is assumed until enough batches exist, and how many pairs of batches are enough. Judgements. */
const assumedRho = 0.1
const enoughPairs = 30

interface Sums {
  readonly between: number
  readonly within: number
  readonly betweenDf: number
  readonly withinDf: number
  /** Σ (trials of the group − Σ trials² of its batches ÷ trials of the group). */
  readonly size: number
  readonly pairs: number
}

function sumsOf(batches: readonly Batch[]): Sums {
  const trials = batches.reduce((sum, batch) => sum + batch.trials, 0)
  const rate = batches.reduce((sum, batch) => sum + batch.successes, 0) / trials
  const squares = batches.reduce((sum, batch) => sum + batch.trials ** 2, 0)
  return {
    between: batches.reduce((sum, b) => sum + b.trials * (b.successes / b.trials - rate) ** 2, 0),
    within: batches.reduce((sum, b) => sum + (b.successes * (b.trials - b.successes)) / b.trials, 0),
    betweenDf: batches.length - 1,
    withinDf: trials - batches.length,
    size: trials - squares / trials,
    pairs: (batches.length * (batches.length - 1)) / 2,
  }
}

/**
 * How much alike the pieces of one batch turn out, over the whole club: batches are compared within their group (the
 * same variety and method) only. Below 30 pairs of batches 0.1 is assumed; never below 0. Throws RangeError for
 * impossible counts.
 *
 * Source: the analysis-of-variance estimator, M. S. Ridout, C. G. B. Demétrio and D. Firth 1999, Biometrics 55:137–148
 * (from memory).
 */
export function batchCorrelation(groups: readonly (readonly Batch[])[]): BatchCorrelation {
  for (const { successes, trials } of groups.flat()) requireCounts(successes, trials)
  const sums = groups
    .map((batches) => batches.filter(({ trials }) => trials > 0))
    .filter((batches) => batches.length > 1)
    .map(sumsOf)
  const add = (pick: (of: Sums) => number) => sums.reduce((sum, of) => sum + pick(of), 0)
  const withinDf = add((of) => of.withinDf)
  if (add((of) => of.pairs) < enoughPairs || withinDf === 0) return { rho: assumedRho, isAssumed: true }
  const betweenDf = add((of) => of.betweenDf)
  const between = add((of) => of.between) / betweenDf
  const within = add((of) => of.within) / withinDf
  const size = add((of) => of.size) / betweenDf
  const all = between + (size - 1) * within
  return { rho: all === 0 ? 0 : Math.min(1, Math.max(0, (between - within) / all)), isAssumed: false }
}
