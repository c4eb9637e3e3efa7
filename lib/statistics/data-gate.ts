import type { Interval } from '#lib/statistics/interval.ts'
import { scoreInterval } from '#lib/statistics/score-interval.ts'
import { fewestKnownOutcomes } from '#lib/statistics/summarise-outcomes.ts'

/** What stands behind a rate. */
export interface Evidence {
  /** Known outcomes: pieces that took, of pieces that took or failed. */
  readonly successes: number
  readonly known: number
  /** By which the batches make them count for less; 1 for none. */
  readonly designEffect: number
  readonly growers: number
  readonly batches: number
}

export interface DataGate {
  readonly kind: 'not-enough' | 'early-sign' | 'fair-idea' | 'well-tested'
  readonly words: string
  /** What may be shown: nothing but how many were tried, the range alone, or the rate with its range. */
  readonly shows: 'counts' | 'range' | 'rate'
  readonly isRanked: boolean
  /** How many more known outcomes the next step needs, if they go on as they did; 0 when nothing is missing. */
  readonly needs: number
  /** Wilson's 95 % interval on the effective number of outcomes. */
  readonly interval: Interval
}

/** Widths of the 95 % interval at which more may be said. Judgements. */
const widestRange = 0.6
const widestRate = 0.4
const widestTested = 0.25
const fewestGrowers = 2
const fewestBatches = 2

const widthOf = ({ low, high }: Interval) => high - low

const intervalAt = ({ successes, known, designEffect }: Evidence, more = 0) =>
  scoreInterval(known === 0 ? 0.5 : successes / known, (known + more) / designEffect)

/** The fewest more outcomes at the same rate that bring the interval down to a width. */
function needed(evidence: Evidence, width: number): number {
  const fewest = Math.max(0, fewestKnownOutcomes - evidence.known)
  // The width falls with the number of outcomes, so the answer is found by halving; 100 per unit of design effect are
  // enough for the narrowest width at any rate.
  let [low, high] = [fewest, fewest + Math.ceil(100 * evidence.designEffect)]
  while (low < high) {
    const middle = Math.floor((low + high) / 2)
    if (widthOf(intervalAt(evidence, middle)) <= width) high = middle
    else low = middle + 1
  }
  return low
}

function kindOf(evidence: Evidence, width: number): DataGate['kind'] {
  if (width > widestRange || evidence.known < fewestKnownOutcomes) return 'not-enough'
  if (width > widestRate) return 'early-sign'
  const isBroad = evidence.growers >= fewestGrowers && evidence.batches >= fewestBatches
  return width < widestTested && isBroad ? 'well-tested' : 'fair-idea'
}

/**
 * How much may be said of a rate, by the width of its interval and not by numbers alone: fifty grafts by one hand on one
 * day are not fifty facts. Throws RangeError for impossible numbers.
 *
 * The cut-offs are judgement: 0.60 and five outcomes for a range, 0.40 for a rate, 0.25 with two growers and two batches
 * for "well tested".
 */
export function dataGate(evidence: Evidence): DataGate {
  const { successes, known, designEffect } = evidence
  if (!(successes >= 0 && successes <= known && designEffect >= 1)) {
    throw new RangeError(`Not what can stand behind a rate: ${JSON.stringify(evidence)}`)
  }
  const interval = intervalAt(evidence)
  const kind = kindOf(evidence, widthOf(interval))
  const needs = {
    'not-enough': () => needed(evidence, widestRange),
    'early-sign': () => needed(evidence, widestRate),
    'fair-idea': () => 0,
    'well-tested': () => 0,
  }[kind]()
  const shown = {
    'not-enough': { words: 'not enough yet', shows: 'counts', isRanked: false },
    'early-sign': { words: 'an early sign', shows: 'range', isRanked: false },
    'fair-idea': { words: 'a fair idea', shows: 'rate', isRanked: true },
    'well-tested': { words: 'well tested', shows: 'rate', isRanked: true },
  } as const
  return { kind, ...shown[kind], needs, interval }
}
