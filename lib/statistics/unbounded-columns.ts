/** Log-odds beyond this are as good as certain: 3 in ten million. */
const asGoodAsCertain = 15
/** A coefficient is adrift when its standard error times the column's range is beyond this. */
const adrift = 10

/**
 * The columns of a design whose estimate the data do not bound, as under complete or nearly complete separation: some
 * fitted chances are 0 or 1 and the column's effect could be anything. The cut-offs are judgement: no data that bound an
 * effect come near them.
 */
export function unboundedColumns(
  fixed: readonly ArrayLike<number>[],
  coefficients: readonly { readonly standardError: number }[],
  chances: ArrayLike<number>,
): number[] {
  const edge = 1 / (1 + Math.exp(asGoodAsCertain))
  let isExtreme = false
  for (let i = 0; i < chances.length && !isExtreme; i++) {
    isExtreme = (chances[i] as number) < edge || (chances[i] as number) > 1 - edge
  }
  if (!isExtreme) return []
  return [...coefficients.keys()].filter((column) => {
    let low = Number.POSITIVE_INFINITY
    let high = Number.NEGATIVE_INFINITY
    for (const row of fixed) {
      low = Math.min(low, row[column] as number)
      high = Math.max(high, row[column] as number)
    }
    const range = high > low ? high - low : Math.abs(high)
    return !(range * (coefficients[column]?.standardError ?? 0) <= adrift)
  })
}
