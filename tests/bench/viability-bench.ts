import { storageProfileFor } from '#lib/viability/storage-profiles.ts'
import { viabilityWindow } from '#lib/viability/viability-window.ts'
import { seededRandom } from '#lib/kernel/seeded-random.ts'
import type { BenchResult } from './bench-result.ts'

const lots = 100_000
const dayMs = 86_400_000

/** Windows of 100,000 lots with three stints each, in one run. */
export async function benchViability(): Promise<BenchResult> {
  const random = seededRandom(20_261_125)
  const profile = storageProfileFor('apple')
  const inputs = Array.from({ length: lots }, () => {
    const cutAt = new Date(Date.UTC(2026, 0, random.integer(1, 40), 12))
    const first = new Date(cutAt.getTime() + random.integer(1, 4) * dayMs)
    const second = new Date(first.getTime() + random.integer(5, 30) * dayMs)
    const at = (celsius: number) => ({ low: celsius, mid: celsius, high: celsius })
    return {
      profile,
      cutAt,
      asOf: new Date(second.getTime() + 10 * dayMs),
      stints: [
        { from: cutAt, to: first, celsius: { low: 5, mid: 12, high: 25 }, basis: 'assumed' as const },
        { from: first, to: second, celsius: at(random.integer(0, 6)), basis: 'typed' as const },
        { from: second, to: null, celsius: at(random.integer(0, 6)), basis: 'logger' as const },
      ],
    }
  })
  const start = performance.now()
  let refused = 0
  for (const input of inputs) if (viabilityWindow(input).kind !== 'window') refused++
  const seconds = (performance.now() - start) / 1000
  if (refused > 0) throw new Error(`${refused} windows were refused`)
  const windowsPerSecond = Math.round(lots / seconds)
  return {
    rows: [['windows of lots with three stints, per second', windowsPerSecond.toLocaleString('en-GB')]],
    ratios: { windowsPerSecond },
  }
}
