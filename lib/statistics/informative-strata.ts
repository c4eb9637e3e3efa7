/** [[took, failed], [took, failed]]: the first and the second of two methods in one crop or variety. */
export type Stratum = readonly [readonly [number, number], readonly [number, number]]

/** The strata in which both rows were tried. Throws RangeError for what are no counts. */
export function informativeStrata(strata: readonly Stratum[]): readonly Stratum[] {
  for (const stratum of strata) {
    for (const count of stratum.flat()) {
      if (!Number.isSafeInteger(count) || count < 0) throw new RangeError(`Not a count: ${count}`)
    }
  }
  return strata.filter(([[a, b], [c, d]]) => a + b > 0 && c + d > 0)
}
