import type { OutcomeTally } from '#lib/results/outcome-tallies.ts'
import type { Interval } from '#lib/statistics/interval.ts'
import { summariseOutcomes } from '#lib/statistics/summarise-outcomes.ts'

/** What may be said of a row: its counts and rate, or how many known outcomes are missing before anything is. */
export type OutcomeRate =
  | {
      readonly kind: 'shown'
      readonly alive: number
      readonly known: number
      /** Alive of known, a share of 1, and Wilson's 95 % interval of it. */
      readonly rate: number
      readonly interval: Interval
      /** The share if every unknown piece had died, or had lived. */
      readonly worst: number
      readonly best: number
    }
  | { readonly kind: 'not-enough'; readonly known: number; readonly needs: number }

/** The counts of a row that tell nobody's outcome, and its rate. */
export interface OutcomeRow {
  readonly attempts: number
  readonly growers: number
  readonly pieces: number
  readonly pending: number
  readonly unknown: number
  readonly rate: OutcomeRate
}

/** Several tallies as one row. Below five known outcomes the outcomes themselves are not in it. */
export function outcomeRow(tallies: readonly OutcomeTally[]): OutcomeRow {
  const summary = summariseOutcomes(tallies)
  const { known, alive, rate, interval, worst, best, gate } = summary
  return {
    attempts: tallies.reduce((sum, tally) => sum + tally.attempts, 0),
    growers: new Set(tallies.flatMap((tally) => tally.growerIds)).size,
    pieces: summary.pieces,
    pending: summary.pending,
    unknown: summary.unknown,
    rate:
      gate.kind === 'not-enough' || rate === null || interval === null
        ? { kind: 'not-enough', known, needs: gate.kind === 'not-enough' ? gate.needs : 0 }
        : { kind: 'shown', alive, known, rate, interval, worst, best },
  }
}

/** Tallies in groups of the same key, in the order in which the keys first came. */
export function inGroups<Key>(
  tallies: readonly OutcomeTally[],
  keyOf: (tally: OutcomeTally) => Key,
): ReadonlyMap<Key, readonly OutcomeTally[]> {
  const groups = new Map<Key, OutcomeTally[]>()
  for (const tally of tallies) {
    const key = keyOf(tally)
    const group = groups.get(key)
    if (group) group.push(tally)
    else groups.set(key, [tally])
  }
  return groups
}
