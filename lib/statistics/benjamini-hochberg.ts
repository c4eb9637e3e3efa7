/**
 * Each p-value raised for the company it was found in, in the order given: those at most q together hold a share of at
 * most q of false alarms on average. Throws RangeError outside 0 to 1.
 *
 * Source: Y. Benjamini and Y. Hochberg 1995, J R Stat Soc B 57:289–300; as `p.adjust(p, 'BH')` in R.
 *
 * @example benjaminiHochberg([0.01, 0.04, 0.03]) // [0.03, 0.04, 0.04]
 */
export function benjaminiHochberg(pValues: readonly number[]): number[] {
  for (const p of pValues) if (!(p >= 0 && p <= 1)) throw new RangeError(`Not a p-value: ${p}`)
  const falling = pValues.map((p, place) => ({ p, place })).sort((a, b) => b.p - a.p)
  const adjusted = new Array<number>(pValues.length)
  let least = 1
  for (const [i, { p, place }] of falling.entries()) {
    least = Math.min(least, p * (pValues.length / (pValues.length - i)))
    adjusted[place] = least
  }
  return adjusted
}
