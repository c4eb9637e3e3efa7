import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { fitMixedLogit, type MixedLogitFit } from '#lib/statistics/fit-mixed-logit.ts'
import published from '#tests/reference/data/mixed-logit-r.json' with { type: 'json' }
import simulated from '#tests/reference/data/mixed-logit-simulated.json' with { type: 'json' }
import { type BenchResult, median } from './bench-result.ts'
import { type MixedLogitData, mixedLogitData } from './mixed-logit-data.ts'

/** A ratio is null where what it compares with is not there. */
type RatesBenchResult = Omit<BenchResult, 'ratios'> & {
  readonly ratios: Readonly<
    Record<
      | 'glmerOverOurs1e3'
      | 'glmerOverOurs1e4'
      | 'glmerOverOurs1e5'
      | 'maxCoefficientError'
      | 'resultsP95LargeOverSmall',
      number | null
    >
  >
}

/** How often each size is fitted, by both sides; our first fits are not counted, nor is R's start. */
const turns = new Map([
  [1000, { warming: 12, ours: 9, r: 5 }],
  [10_000, { warming: 3, ours: 5, r: 3 }],
  [100_000, { warming: 1, ours: 3, r: 1 }],
])

const rScript = `
if (!requireNamespace("lme4", quietly = TRUE)) { cat("absent"); quit() }
suppressMessages(library(lme4))
arguments <- commandArgs(TRUE)
d <- read.csv(arguments[1])
for (name in c("method", "variety", "grower")) d[[name]] <- factor(d[[name]])
for (turn in seq_len(as.integer(arguments[2]))) {
  started <- proc.time()[["elapsed"]]
  suppressWarnings(glmer(cbind(k, n - k) ~ method + age + (1 | variety) + (1 | grower), data = d, family = binomial))
  cat(proc.time()[["elapsed"]] - started, "")
}`

function rowsCsv({ successes, trials, varieties, growers, methods, weeks }: MixedLogitData): string {
  const rows = trials.map((n, i) => [successes[i], n, varieties[i], growers[i], methods[i], weeks[i]].join())
  return ['k,n,variety,grower,method,age', ...rows].join('\n')
}

/** The middle of glmer's seconds with its defaults, standard errors included; null where R or lme4 is missing. */
function glmerSeconds(data: MixedLogitData, runs: number): number | null {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'rates-'))
  try {
    const file = path.join(folder, 'rows.csv')
    writeFileSync(file, rowsCsv(data))
    const printed = execFileSync('Rscript', ['-e', rScript, file, String(runs)], { encoding: 'utf8' }).trim()
    return printed === 'absent' ? null : median(printed.split(/\s+/).map(Number))
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null
    throw error
  } finally {
    rmSync(folder, { recursive: true })
  }
}

function fitRows(data: MixedLogitData): MixedLogitFit {
  const fixed = data.methods.map((m, i) => [1, +(m === 1), +(m === 2), +(m === 3), data.weeks[i] ?? 0])
  return fitMixedLogit({ ...data, fixed, groupings: [data.varieties, data.growers] })
}

const apart = (fitted: readonly number[], expected: readonly number[]) =>
  Math.max(...expected.map((value, i) => Math.abs(value - (fitted[i] ?? Number.NaN))))

const estimatesOf = ({ coefficients }: MixedLogitFit) => coefficients.map(({ estimate }) => estimate)

/** The largest distance of a coefficient or standard deviation from the polished reference of real and invented data. */
function errorOnPublished(): number {
  const { cbpp, ledger } = published
  const [variety = [], grower = []] = ledger.groupings
  const pairs = [
    [fitMixedLogit(cbpp), cbpp.polished],
    [fitMixedLogit({ ...ledger, groupings: [variety, grower] }), ledger.twoWay],
    [fitMixedLogit(ledger), ledger.threeWay],
  ] as const
  return Math.max(
    ...pairs.flatMap(([own, { beta, sd }]) => [
      apart(estimatesOf(own), beta),
      apart(own.standardDeviations, sd),
    ]),
  )
}

interface Measured {
  readonly ours: number
  readonly first: number
  readonly glmer: number | null
  readonly error: number
}

function measure({ cells, varieties, growers, beta }: (typeof simulated.sizes)[number]): Measured {
  const data = mixedLogitData(cells, varieties, growers)
  const { warming, ours, r } = turns.get(cells) ?? { warming: 1, ours: 1, r: 1 }
  const seconds = Array.from({ length: warming + ours }, () => {
    const start = performance.now()
    fitRows(data)
    return (performance.now() - start) / 1000
  })
  return {
    ours: median(seconds.slice(warming)),
    first: seconds[0] ?? Number.NaN,
    glmer: glmerSeconds(data, r),
    error: apart(estimatesOf(fitRows(data)), beta),
  }
}

const toTenth = (ratio: number | null) => ratio && Math.round(ratio * 10) / 10

/** The crossed mixed logit with standard errors against R's glmer on the same rows, and against polished estimates. */
export async function benchRates(): Promise<RatesBenchResult> {
  const measured = simulated.sizes.map((size) => ({ size, ...measure(size) }))
  const ratios = measured.map(({ ours, glmer }) => toTenth(glmer && glmer / ours))
  const [ratio1e3 = null, ratio1e4 = null, ratio1e5 = null] = ratios
  const error = Math.max(errorOnPublished(), ...measured.map((own) => own.error))
  const rows = measured.flatMap(({ size, ours, first, glmer }, i): [string, string][] => {
    const cells = `${size.cells.toLocaleString('en-GB')} cells`
    const target = size.cells === 100_000 ? 30 : 15
    return [
      [`${cells}: seconds of a fit; of the very first, cold`, `${ours.toFixed(3)}; ${first.toFixed(3)}`],
      [`${cells}: seconds of glmer`, glmer === null ? 'not installed' : glmer.toFixed(2)],
      [`${cells}: glmer over ours (at least ${target})`, ratios[i]?.toFixed(1) ?? 'not installed'],
    ]
  })
  return {
    rows: [
      ...rows,
      ['largest distance from polished estimates (at most 1e-5)', error.toExponential(1)],
      ['results page, p95 over 100,000 attempts over that of 1,000', 'not measured yet'],
    ],
    ratios: {
      glmerOverOurs1e3: ratio1e3,
      glmerOverOurs1e4: ratio1e4,
      glmerOverOurs1e5: ratio1e5,
      maxCoefficientError: Number(error.toExponential(2)),
      resultsP95LargeOverSmall: null,
    },
  }
}
