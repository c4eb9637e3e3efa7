import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { seededRandom } from '#lib/kernel/seeded-random.ts'
import { chillRates } from '#lib/viability/chill-rates.ts'
import { forcingRequirement } from '#lib/viability/forcing-requirement.ts'
import { forcingShare } from '#lib/viability/forcing-share.ts'
import { reserveSharePerDay } from '#lib/viability/reserve-clock.ts'
import { type ScenarioName, scenarios } from '#lib/viability/scenarios.ts'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import {
  type ViabilityWindow,
  type ViabilityWindowInput,
  viabilityWindow,
} from '#lib/viability/viability-window.ts'
import { waterLossPerDay } from '#lib/viability/water-clock.ts'
import type { BenchResult } from './bench-result.ts'

/** A ratio is null where what it compares with is not installed. */
type ViabilityBenchResult = Omit<BenchResult, 'ratios'> & {
  readonly ratios: Readonly<Record<'windowsPerSecond', number>> &
    Readonly<Record<'naiveOverOurs' | 'rOverOurs', number | null>>
}

const lots = 100_000
/** The slow ways are timed on the first so many lots. */
const naiveLots = 300
const rLots = 300
const dayMs = 86_400_000
const hourMs = 3_600_000
const runs: readonly ScenarioName[] = ['early', 'likely', 'late']
const profile = storageProfiles.apple
const packaging = 'sealed_bag'

/** Lots with three stints each: a journey nobody measured, a fridge with a dial and a fridge with a logger. */
function someLots(): ViabilityWindowInput[] {
  const random = seededRandom(20_261_125)
  const at = (celsius: number) => ({ low: celsius, mid: celsius, high: celsius })
  return Array.from({ length: lots }, () => {
    const cutAt = new Date(Date.UTC(2026, 0, random.integer(1, 40), 12))
    const first = new Date(cutAt.getTime() + random.integer(1, 4) * dayMs)
    const second = new Date(first.getTime() + random.integer(5, 30) * dayMs)
    return {
      profile,
      packaging,
      cutAt,
      asOf: new Date(second.getTime() + 10 * dayMs),
      stints: [
        { from: cutAt, to: first, celsius: { low: 5, mid: 12, high: 25 }, basis: 'assumed' },
        { from: first, to: second, celsius: at(random.integer(0, 6)), basis: 'typed' },
        { from: second, to: null, celsius: at(random.integer(0, 60) / 10), basis: 'logger' },
      ],
    }
  })
}

function windowOf(lot: ViabilityWindowInput): ViabilityWindow {
  const window = viabilityWindow(lot)
  if (window.kind === 'refused') throw new Error(`A window was refused: ${window.reason}`)
  return window
}

/** Which temperature a run reads at an hour since the cut, in lots whose stints change on the hour. */
function celsiusAt({ cutAt, stints }: ViabilityWindowInput, run: ScenarioName, hour: number): number {
  const ms = cutAt.getTime() + hour * hourMs
  const stint = stints.find(({ to }) => to === null || ms < to.getTime())
  if (!stint) throw new Error('A lot is nowhere')
  return stint.celsius[scenarios[run].reads]
}

/** The hour in which one run ends, going through every hour with the library's own rates. */
function naiveEnd(lot: ViabilityWindowInput, run: ScenarioName): number {
  const scenario = scenarios[run]
  let [reserve, water, forced, portions, intermediate] = [0, 0, 0, 0, 0]
  for (let hour = 0; ; hour++) {
    const buds = scenario.budMarginAtCut + forced / forcingRequirement(profile, scenario, portions)
    if (Math.max(reserve, water / scenario.waterLossLimit, buds) >= 1 - 1e-9) return hour
    const celsius = celsiusAt(lot, run, hour)
    reserve += reserveSharePerDay(profile, scenario, celsius) / 24
    water += waterLossPerDay(packaging, celsius) / 24
    forced += forcingShare(celsius, profile.forcingBaseC)
    const { kept, built, fixed } = chillRates(Math.min(10, Math.max(-2, celsius)))
    intermediate = intermediate * kept + built
    if (intermediate >= 1) {
      portions += intermediate * fixed
      intermediate *= 1 - fixed
    }
  }
}

const hoursTo = (lot: ViabilityWindowInput, limit: Date) =>
  Math.ceil((limit.getTime() - lot.cutAt.getTime()) / hourMs - 1e-5)

/** Seconds for each lot hour by hour; both ways must agree. */
function naiveSecondsPerLot(sample: readonly ViabilityWindowInput[]): number {
  const start = performance.now()
  const ends = sample.map((lot) => runs.map((run) => naiveEnd(lot, run)))
  const seconds = (performance.now() - start) / 1000
  for (const [i, lot] of sample.entries()) {
    const window = windowOf(lot)
    const hours = runs.map((run) => hoursTo(lot, window[run].at))
    if (hours.join() !== ends[i]?.join())
      throw new Error(`Lot ${i} ends after ${hours}, hour by hour ${ends[i]}`)
  }
  return seconds / sample.length
}

const rScript = `
if (!requireNamespace("chillR", quietly = TRUE)) { cat("absent"); quit() }
stretches <- read.csv(commandArgs(TRUE)[1])
lots <- lapply(split(stretches, stretches$lot), function(lot) rep(lot$celsius, lot$hours))
start <- proc.time()[["elapsed"]]
for (hours in lots) chillR::Dynamic_Model(hours)
cat(proc.time()[["elapsed"]] - start)`

/** The hours of each lot up to its likely limit, as runs of equal temperature. */
function stretchesCsv(sample: readonly ViabilityWindowInput[]): string {
  const rows = sample.flatMap((lot, i) => {
    const end = hoursTo(lot, windowOf(lot).likely.at)
    return lot.stints.map(({ from, to, celsius }) => {
      const hourOf = (at: Date) => Math.min(end, (at.getTime() - lot.cutAt.getTime()) / hourMs)
      return `${i},${celsius.mid},${(to ? hourOf(to) : end) - hourOf(from)}`
    })
  })
  return ['lot,celsius,hours', ...rows].join('\n')
}

/** Seconds that R's chillR needs for the chill portions of one run of each lot; null where it is not installed. */
function rSecondsPerLot(sample: readonly ViabilityWindowInput[]): number | null {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'chill-'))
  try {
    const file = path.join(folder, 'stretches.csv')
    writeFileSync(file, stretchesCsv(sample))
    const printed = execFileSync('Rscript', ['-e', rScript, file], { encoding: 'utf8' }).trim()
    if (printed === 'absent') return null
    const seconds = Number(printed)
    if (!(seconds > 0)) throw new Error(`R printed ${printed}`)
    return seconds / sample.length
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null
    throw error
  } finally {
    rmSync(folder, { recursive: true })
  }
}

const toHundredth = (ratio: number | null) => ratio && Math.round(ratio * 100) / 100
const inWords = (ratio: number | null) => (ratio === null ? 'not installed' : ratio.toFixed(1))

/** Windows of 100,000 lots with three stints each, against the same hour by hour and against R's chill portions alone. */
export async function benchViability(): Promise<ViabilityBenchResult> {
  const inputs = someLots()
  for (const lot of inputs.slice(0, 5000)) windowOf(lot)
  const start = performance.now()
  for (const lot of inputs) windowOf(lot)
  const ours = (performance.now() - start) / 1000 / lots
  const naiveOverOurs = naiveSecondsPerLot(inputs.slice(0, naiveLots)) / ours
  const r = rSecondsPerLot(inputs.slice(0, rLots))
  const rOverOurs = r && r / ours
  const windowsPerSecond = Math.round(1 / ours)
  return {
    rows: [
      ['windows of lots with three stints, per second', windowsPerSecond.toLocaleString('en-GB')],
      ['hour by hour, over ours', inWords(naiveOverOurs)],
      ['R chillR, chill portions of one run alone, over ours (at least 10)', inWords(rOverOurs)],
    ],
    ratios: {
      windowsPerSecond,
      naiveOverOurs: toHundredth(naiveOverOurs),
      rOverOurs: toHundredth(rOverOurs),
    },
  }
}
