import logGamma from '@stdlib/math-base-special-gammaln'
import type { HyperNode } from '#lib/statistics/hyper-grid.ts'
import type { Interval } from '#lib/statistics/interval.ts'

/** Points of the curve between its ends. */
const points = 240

/** log(1 + e^y) without overflow. */
const softPlus = (y: number) => Math.max(y, 0) + Math.log1p(Math.exp(-Math.abs(y)))

/** The density of the logit of a mixture of betas, and what lies beyond a place so far out that only one power counts. */
interface Curve {
  readonly densityAt: (y: number) => number
  readonly below: (y: number) => number
  readonly above: (y: number) => number
}

function curveOf(nodes: readonly HyperNode[]): Curve {
  const alphas = Float64Array.from(nodes, ({ alpha }) => alpha)
  const betas = Float64Array.from(nodes, ({ beta }) => beta)
  const constants = Float64Array.from(
    nodes,
    ({ alpha, beta, weight }) => Math.log(weight) + logGamma(alpha + beta) - logGamma(alpha) - logGamma(beta),
  )
  const count = nodes.length
  const tail = (powers: Float64Array, out: number) =>
    powers.reduce((sum, power, i) => sum + Math.exp((constants[i] as number) - power * out) / power, 0)
  return {
    densityAt: (y) => {
      // log p and log (1 − p).
      const logShare = -softPlus(-y)
      const logRest = -softPlus(y)
      let sum = 0
      for (let i = 0; i < count; i++) {
        const logTerm = (alphas[i] as number) * logShare + (betas[i] as number) * logRest
        sum += Math.exp((constants[i] as number) + logTerm)
      }
      return sum
    },
    below: (y) => tail(alphas, -y),
    above: (y) => tail(betas, y),
  }
}

/** Where the curve has fallen to nothing on one side of `middle`, but no further than `furthest`. */
function endOf({ densityAt }: Curve, middle: number, width: number, furthest: number): number {
  const top = densityAt(middle)
  const sign = Math.sign(furthest - middle)
  for (let out = width; ; out *= 1.3) {
    if (sign * (furthest - middle) <= out) return furthest
    if (densityAt(middle + sign * out) < 1e-13 * top) return middle + sign * out
  }
}

/** Shares up to each point, by the trapezium rule with its ends' slopes: exact to the fourth power of the step. */
function accumulate(
  curve: Curve,
  from: number,
  to: number,
  before: number,
): { shares: Float64Array; step: number } {
  const step = (to - from) / points
  const density = Float64Array.from({ length: points + 3 }, (_, i) => curve.densityAt(from + (i - 1) * step))
  const slope = (i: number) => ((density[i + 2] as number) - (density[i] as number)) / (2 * step)
  const shares = new Float64Array(points + 1)
  shares[0] = before
  for (let i = 0; i < points; i++) {
    const area = (step * ((density[i + 1] as number) + (density[i + 2] as number))) / 2
    shares[i + 1] = (shares[i] as number) + area - (step * step * (slope(i + 1) - slope(i))) / 12
  }
  return { shares, step }
}

/** Where the share is reached: a straight line between points, mended twice by the density. */
function placeOf(curve: Curve, shares: Float64Array, from: number, step: number, wanted: number): number {
  if (wanted <= (shares[0] as number)) return -Infinity
  if (wanted >= (shares[points] as number)) return Infinity
  let i = 0
  while ((shares[i + 1] as number) < wanted) i++
  const start = from + i * step
  const [left, middle, right] = [0, 0.5, 1].map((part) => curve.densityAt(start + part * step)) as [
    number,
    number,
    number,
  ]
  const missing = wanted - (shares[i] as number)
  // Within one step the density is a parabola through three points, and its integral a cubic: Newton's method on that.
  const bend = 2 * (left - 2 * middle + right)
  const slope = right - left - bend
  let part = missing / ((shares[i + 1] as number) - (shares[i] as number))
  for (let turn = 0; turn < 4; turn++) {
    const area = step * part * (left + part * (slope / 2 + (part * bend) / 3))
    const density = step * (left + part * (slope + part * bend))
    if (density > 0) part = Math.min(1, Math.max(0, part + (missing - area) / density))
  }
  return start + part * step
}

/**
 * Equal-tailed limits of a rate whose distribution is a mixture of betas, by integrating the density of its logit. Tails
 * beyond what a rate can be told from 0 or 1 are cut off there: limits closer than a few ten-millionths are 0 or 1.
 */
export function betaMixtureLimits(nodes: readonly HyperNode[], level: number): Interval {
  const curve = curveOf(nodes)
  const moments = nodes.reduce(
    ({ mean, spread, size }, { alpha, beta, weight }) => ({
      mean: mean + weight * Math.log((alpha + 0.5) / (beta + 0.5)),
      spread: spread + weight * Math.sqrt(1 / (alpha + 0.5) + 1 / (beta + 0.5)),
      size: Math.max(size, alpha + beta),
    }),
    { mean: 0, spread: 0, size: 0 },
  )
  const furthest = 16 + Math.log1p(moments.size)
  const from = endOf(curve, moments.mean, moments.spread, -furthest)
  const to = endOf(curve, moments.mean, moments.spread, furthest)
  const { shares, step } = accumulate(curve, from, to, from === -furthest ? curve.below(from) : 0)
  const total = (shares[points] as number) + (to === furthest ? curve.above(to) : 0)
  const rateAt = (share: number) => 1 / (1 + Math.exp(-placeOf(curve, shares, from, step, share * total)))
  return { low: rateAt((1 - level) / 2), high: rateAt((1 + level) / 2) }
}
