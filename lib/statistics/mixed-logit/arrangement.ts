/**
 * The data of a fit, laid out for speed. Rows that look alike are one cell; cells of the same levels in every grouping
 * stand together as a tuple. The grouping with the most levels is the outer one, eliminated first because its block of
 * the Hessian is diagonal; the levels of the others are numbered through as columns.
 */
export interface Arrangement {
  readonly cells: number
  /** Columns of the design matrix. */
  readonly width: number
  /** The design matrix of the cells, row by row. */
  readonly x: Float64Array
  readonly successes: Float64Array
  readonly trials: Float64Array
  readonly tuples: number
  /** Where each tuple's cells begin; one longer than there are tuples. */
  readonly cellStart: Int32Array
  readonly tupleOuter: Int32Array
  /** Tuple by tuple, the column of its level in each inner grouping. */
  readonly tupleColumn: Int32Array
  /** The same, as places in `columns` below. */
  readonly tupleSlot: Int32Array
  /** Where each outer level's tuples begin; one longer than there are outer levels. */
  readonly tupleStart: Int32Array
  readonly outerLevels: number
  /** Levels of all inner groupings together. */
  readonly innerLevels: number
  /** The columns that occur together with each outer level, rising, and where each level's begin. */
  readonly columns: Int32Array
  readonly columnStart: Int32Array
  /** Levels of each grouping, the outer one first, and where each begins among all random effects. */
  readonly levels: readonly number[]
  readonly offsets: readonly number[]
  /** Which grouping of the caller stands at each place. */
  readonly order: readonly number[]
}
