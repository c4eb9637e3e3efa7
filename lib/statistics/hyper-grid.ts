import logGamma from '@stdlib/math-base-special-gammaln'
import type { WeightedCount } from '#lib/statistics/beta-binomial-terms.ts'

/** One possible prior, Beta(alpha, beta), and how much it counts; the weights add up to 1. */
export interface HyperNode {
  readonly alpha: number
  readonly beta: number
  readonly weight: number
}

type LogDensity = (logit: number, logSize: number) => number

/** Units of the same counts once, and how often. */
function distinct(counts: readonly WeightedCount[]): (WeightedCount & { times: number })[] {
  const found = new Map<string, WeightedCount & { times: number }>()
  for (const { successes, trials } of counts) {
    const key = `${successes}/${trials}`
    const same = found.get(key)
    if (same) same.times++
    else found.set(key, { successes, trials, times: 1 })
  }
  return [...found.values()]
}

/**
 * The log-density of (logit of the mean, log of the size α + β) given the counts: the prior is (α + β)^(−5/2) on (α, β),
 * which is flat on the mean and on 1 ÷ √size.
 */
function densityOf(counts: readonly WeightedCount[]): LogDensity {
  const units = distinct(counts)
  return (logit, logSize) => {
    const size = Math.exp(logSize)
    const alpha = size / (1 + Math.exp(-logit))
    const beta = size / (1 + Math.exp(logit))
    const start = logGamma(size) - logGamma(alpha) - logGamma(beta)
    let sum = Math.log(alpha) + Math.log(beta) - 2.5 * logSize
    for (const { successes, trials, times } of units) {
      const own = logGamma(alpha + successes) + logGamma(beta + trials - successes) - logGamma(size + trials)
      sum += times * (start + own)
    }
    return sum
  }
}

/** Uphill by halving steps in the two directions, roughly: the lattice needs no better middle. */
function summitOf(density: LogDensity, logit: number): { x: number; y: number; value: number } {
  let best = { x: logit, y: 1.5, value: density(logit, 1.5) }
  for (let step = 2; step > 0.05 && best.y < mostLogSize; ) {
    const around = [
      [best.x + step, best.y],
      [best.x - step, best.y],
      [best.x, best.y + step],
      [best.x, best.y - step],
    ].map(([x = 0, y = 0]) => ({ x, y, value: density(x, y) }))
    const next = around.reduce((a, b) => (b.value > a.value ? b : a))
    if (next.value > best.value) best = next
    else step /= 2
  }
  return best
}

/** One standard deviation of the density in one direction, as its bend tells; 0.8 where it is flatter than that. */
function spacing(valueAt: (by: number) => number, summit: number): number {
  const by = 0.1
  const bend = (2 * summit - valueAt(by) - valueAt(-by)) / (by * by)
  return 1 / Math.sqrt(Math.max(bend, 1.6))
}

/** What lies this far below the summit does not count. */
const cutOff = Math.log(1e-6)
/** Sizes beyond e^24 are as good as the same rate for all, and there the logarithms of gamma functions lose their digits. */
const mostLogSize = 24
/** Neighbouring means lie half a standard deviation apart, and no prior is narrower than three quarters of that. */
const perDeviation = 0.5
const narrowest = 0.75

/** A prior narrower than the lattice would make steps where there are none: it is widened to fill its gap. */
function nodeAt(logit: number, logSize: number, gap: number, weight: number): HyperNode {
  const mean = 1 / (1 + Math.exp(-logit))
  const rest = 1 / (1 + Math.exp(logit))
  const size = Math.min(Math.exp(logSize), 1 / (mean * rest * (narrowest * gap) ** 2))
  return { alpha: mean * size, beta: rest * size, weight }
}

/**
 * The possible priors of a pool of units, weighted by how well they explain the counts: nodes of a lattice around the
 * summit, as far as the density reaches. The sum over a lattice is as good as the integral, as the density is smooth and
 * runs out on all sides.
 */
export function hyperGrid(counts: readonly WeightedCount[]): readonly HyperNode[] {
  const density = densityOf(counts)
  const took = counts.reduce((sum, { successes }) => sum + successes, 0)
  const failed = counts.reduce((sum, { successes, trials }) => sum + trials - successes, 0)
  const top = summitOf(density, Math.log((took + 0.5) / (failed + 0.5)))
  const dx = perDeviation * spacing((by) => density(top.x + by, top.y), top.value)
  const dy = spacing((by) => density(top.x, top.y + by), top.value)
  const seen = new Set<string>()
  const open: [number, number][] = [[0, 0]]
  const nodes: HyperNode[] = []
  for (let next = open.pop(); next; next = open.pop()) {
    const [i, j] = next
    const key = `${i},${j}`
    if (seen.has(key)) continue
    seen.add(key)
    const [logit, logSize] = [top.x + i * dx, top.y + j * dy]
    const drop = logSize > mostLogSize ? Number.NEGATIVE_INFINITY : density(logit, logSize) - top.value
    if (!(drop >= cutOff)) continue
    nodes.push(nodeAt(logit, logSize, dx, Math.exp(drop)))
    open.push([i + 1, j], [i - 1, j], [i, j + 1], [i, j - 1])
  }
  const total = nodes.reduce((sum, { weight }) => sum + weight, 0)
  return nodes.map((node) => ({ ...node, weight: node.weight / total }))
}
