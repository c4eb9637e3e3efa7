import type { Packaging } from '#lib/viability/packaging.ts'
import type { ScenarioName } from '#lib/viability/scenarios.ts'
import type { StorageProfile } from '#lib/viability/storage-profiles.ts'

/** The model as it is written down, hour after hour, with its constants typed out a second time. */
const runs = {
  early: { life: 0.6, q10: 3, forcing: 0.7, kappa: Math.log(2.5), chilled: 1, buds: 0.1, water: 0.05 },
  likely: { life: 1, q10: 2.5, forcing: 1, kappa: Math.log(3), chilled: 0.7, buds: 0, water: 0.12 },
  late: { life: 1.6, q10: 2, forcing: 1.4, kappa: Math.log(4), chilled: 0.4, buds: 0, water: 0.25 },
}
const lossPerDayAndKpa: Record<Packaging, number> = {
  bare: 0.02,
  paper: 0.012,
  open_bag: 0.004,
  sealed_bag: 0.0008,
  waxed_sealed: 0.0002,
  double_bag: 0.0003,
  sealed_damp: 0.00005,
}

/** One hour of the Dynamic Model, in place. */
export function naiveChillHour(state: { x: number; portions: number }, celsius: number): void {
  const kelvin = celsius + 273
  const xs = (139500 / 2.567e18) * Math.exp((12888.8 - 4153.5) / kelvin)
  const ak1 = 2.567e18 * Math.exp(-12888.8 / kelvin)
  state.x = xs - (xs - state.x) * Math.exp(-ak1)
  if (state.x >= 1) {
    const sr = Math.exp((1.6 * 277 * (kelvin - 277)) / kelvin)
    const xi = sr / (1 + sr)
    state.portions += state.x * xi
    state.x *= 1 - xi
  }
}

const logistic = (celsius: number) => 1 / (1 + Math.exp(-0.185 * (celsius - 18.4)))

export interface NaiveWood {
  readonly profile: StorageProfile
  readonly packaging?: Packaging
  /** Share of the way to bud break at the cut. */
  readonly progress?: number
}

/** How far each clock of a run is, and the hours since the cut. */
export interface NaiveClocks {
  readonly hours: number
  readonly reserve: number
  readonly 'bud-break': number
  readonly water: number
}

/** The clocks of one run at the cut and after each hour; `celsiusOf` gives the temperature of an hour. */
function* naiveHours(
  { profile, packaging = 'sealed_bag', progress = 0 }: NaiveWood,
  name: ScenarioName,
  celsiusOf: (hour: number) => number,
): Generator<NaiveClocks, never> {
  const run = runs[name]
  const { chillPortions, forcingHours, forcingBaseC } = profile
  const chill = { x: 0, portions: 0 }
  const start = Math.min(1, progress + run.buds)
  let [reserve, water, forced] = [0, 0, 0]
  let budBreak = forcingHours === null ? 0 : start
  for (let hour = 0; ; hour++) {
    yield { hours: hour, reserve, 'bud-break': budBreak, water }
    const celsius = celsiusOf(hour)
    reserve +=
      run.q10 ** (Math.max(celsius, profile.reserveFloorC) / 10) / (24 * profile.lifeDaysAt0C * run.life)
    const deficit = 0.61078 * Math.exp((17.27 * celsius) / (celsius + 237.3)) * 0.5
    water += (lossPerDayAndKpa[packaging] * deficit) / 24 / run.water
    if (chillPortions === null || forcingHours === null) continue
    naiveChillHour(chill, Math.max(-2, Math.min(10, celsius)))
    forced +=
      Math.max(0, logistic(Math.min(celsius, 25)) - logistic(forcingBaseC)) /
      (logistic(25) - logistic(forcingBaseC))
    const had = Math.min(1, run.chilled + chill.portions / chillPortions)
    budBreak = start + forced / (forcingHours * run.forcing * Math.exp(run.kappa * (1 - had)))
  }
}

/** A clock counts as run down this close to 1: the sums of thousands of hours are not exact. */
const rounding = 1e-9

/** The whole hour in which the first clock runs down, and the clocks that did in that hour. */
export function naiveEnd(
  wood: NaiveWood,
  name: ScenarioName,
  celsiusOf: (hour: number) => number,
): { hours: number; runDown: string[] } {
  for (const { hours, ...clocks } of naiveHours(wood, name, celsiusOf)) {
    const runDown = Object.entries(clocks).filter(([, share]) => share >= 1 - rounding)
    if (runDown.length > 0) return { hours, runDown: runDown.map(([clock]) => clock) }
  }
  throw new Error('The hours of a run ended')
}

/** The clocks of one run after so many hours. */
export function naiveAfter(
  wood: NaiveWood,
  name: ScenarioName,
  celsiusOf: (hour: number) => number,
  hours: number,
): NaiveClocks {
  for (const clocks of naiveHours(wood, name, celsiusOf)) if (clocks.hours === hours) return clocks
  throw new Error('The hours of a run ended')
}
