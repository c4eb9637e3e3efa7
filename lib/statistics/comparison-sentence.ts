import type { MantelHaenszel } from '#lib/statistics/mantel-haenszel.ts'

export interface ComparedMethods {
  readonly first: string
  readonly second: string
  /** What they were compared within. */
  readonly one: string
  readonly many: string
  readonly comparison: MantelHaenszel | null
}

const points = (share: number) => {
  const count = Math.round(Math.abs(share) * 100)
  return `${count} ${count === 1 ? 'point' : 'points'}`
}

/**
 * One sentence on two methods compared like with like, that names the difference in percentage points, its range and on
 * how much it stands, and never a cause.
 *
 * @example "Whip-and-tongue took 12 points more often than cleft on the 9 varieties tried both ways (range 3 to 21); people
 * chose the method, so part may be who did it."
 */
export function comparisonSentence({ first, second, one, many, comparison }: ComparedMethods): string {
  if (!comparison)
    return `No ${one} has been tried both ways, so ${first} and ${second} cannot be compared yet.`
  const { strata, riskDifference } = comparison
  const where = strata === 1 ? `the one ${one} tried both ways` : `the ${strata} ${many} tried both ways`
  const { difference, low, high } = riskDifference
  if (low <= 0 && high >= 0) {
    return `There is no clear difference between ${first} and ${second} yet on ${where}: ${first} may have taken anything from ${points(low)} less to ${points(high)} more often.`
  }
  const [more, less] = difference > 0 ? [first, second] : [second, first]
  const [near, far] = difference > 0 ? [low, high] : [-high, -low]
  const range = `range ${Math.round(near * 100)} to ${Math.round(far * 100)}`
  return `${more.charAt(0).toUpperCase()}${more.slice(1)} took ${points(difference)} more often than ${less} on ${where} (${range}); people chose the method, so part may be who did it.`
}
