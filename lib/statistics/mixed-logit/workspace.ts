import type { Arrangement } from '#lib/statistics/mixed-logit/arrangement.ts'

/**
 * Everything a fit writes to, made once. The random effects are held as u = b ÷ σ, so that the Hessian
 * H = I + Σ w z zᵀ stays regular at σ = 0.
 */
export interface Workspace {
  readonly data: Arrangement
  /** Fixed effects, then one standard deviation for each grouping, the outer one first. */
  readonly parameters: Float64Array
  /** 1 ÷ variance of the prior of each fixed effect; 0 for none. */
  readonly precisions: Float64Array
  /** The fixed part of each cell's log-odds, and its chance. */
  readonly linear: Float64Array
  readonly chance: Float64Array
  /** The random part of each tuple's log-odds; between passes, room. */
  readonly shift: Float64Array
  /** Sums over each tuple's cells: observed less expected, and weight n p (1 − p). */
  readonly residual: Float64Array
  readonly weight: Float64Array
  readonly u: Float64Array
  /** `residual` added up by level. */
  readonly levelResidual: Float64Array
  /** H: the outer block's diagonal, outer by inner at the places of the pattern, and the factored Schur complement. */
  readonly diagonal: Float64Array
  readonly cross: Float64Array
  readonly schur: Float64Array
  /** H⁻¹: the same three; and room as large as the last. */
  readonly inverseDiagonal: Float64Array
  readonly inverseCross: Float64Array
  readonly inverse: Float64Array
  readonly scratch: Float64Array
  /** Half the leverage of each tuple. */
  readonly halves: Float64Array
  readonly step: Float64Array
  readonly solved: Float64Array
  readonly gradient: Float64Array
  isFactored: boolean
}

export function makeWorkspace(data: Arrangement, priors: readonly (number | null)[]): Workspace {
  const { cells, tuples, outerLevels, innerLevels, width, levels } = data
  const effects = outerLevels + innerLevels
  const vector = (length: number) => new Float64Array(length)
  const square = () => vector(innerLevels * innerLevels)
  return {
    data,
    parameters: vector(width + levels.length),
    precisions: Float64Array.from({ length: width }, (_, i) => (priors[i] ? 1 / priors[i] ** 2 : 0)),
    linear: vector(cells),
    chance: vector(cells),
    shift: vector(tuples),
    residual: vector(tuples),
    weight: vector(tuples),
    u: vector(effects),
    levelResidual: vector(effects),
    diagonal: vector(outerLevels),
    cross: vector(data.columns.length),
    schur: square(),
    inverseDiagonal: vector(outerLevels),
    inverseCross: vector(data.columns.length),
    inverse: square(),
    scratch: square(),
    halves: vector(tuples),
    step: vector(effects),
    solved: vector(effects),
    gradient: vector(width + levels.length),
    isFactored: false,
  }
}
