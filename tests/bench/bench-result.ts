export interface BenchResult {
  /** What was measured, and the figure as it is printed. */
  readonly rows: readonly (readonly [string, string])[]
  /** The ratios by name. */
  readonly ratios: Readonly<Record<string, number>>
}

/** Runs `work` over and over from `workers` sides for about `ms`; returns completed runs per second. */
export async function throughput(
  workers: number,
  ms: number,
  work: (worker: number, turn: number) => Promise<void>,
): Promise<number> {
  const start = performance.now()
  const counts = await Promise.all(
    Array.from({ length: workers }, async (_, worker) => {
      let turn = 0
      while (performance.now() - start < ms) await work(worker, turn++)
      return turn
    }),
  )
  const total = counts.reduce((sum, count) => sum + count, 0)
  return (total * 1000) / (performance.now() - start)
}

/** The middle of several measurements. */
export function median(figures: readonly number[]): number {
  const sorted = [...figures].sort((a, b) => a - b)
  const middle = sorted[Math.floor(sorted.length / 2)]
  if (middle === undefined) throw new RangeError('No measurements')
  return middle
}
