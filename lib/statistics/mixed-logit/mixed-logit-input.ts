/** Counts, what is known of them, and who shares what: everything in it can be cloned into a worker thread. */
export interface MixedLogitInput {
  /** How many took, row by row, of how many. Rows without trials say nothing and are left out. */
  readonly successes: ArrayLike<number>
  readonly trials: ArrayLike<number>
  /** One row of the design matrix for each row of counts, the intercept's column included by the caller. */
  readonly fixed: readonly ArrayLike<number>[]
  /** One array of levels (0, 1, 2 …) for each random intercept, as long as the counts. */
  readonly groupings: readonly ArrayLike<number>[]
  /**
   * A normal prior about 0 for a column of the design matrix, by its standard deviation; null for none. The remedy
   * against separation: 2.5 is the usual one for log-odds.
   */
  readonly priorStandardDeviations?: readonly (number | null)[]
}
