/** What was read within one hour, °C. */
export interface ChartHour {
  /** The beginning of the hour, in milliseconds. */
  readonly hourMs: number
  readonly low: number
  readonly mean: number
  readonly high: number
  readonly isLogged: boolean
}

const hourMs = 3_600_000

/** Readings in the order of time, gathered by the hour. */
export function chartHours(
  readings: readonly { readonly at: Date; readonly celsius: number }[],
  isLogged: boolean,
): ChartHour[] {
  const hours: { hourMs: number; values: number[] }[] = []
  for (const { at, celsius } of readings) {
    const hour = Math.floor(at.getTime() / hourMs) * hourMs
    const last = hours.at(-1)
    if (last?.hourMs === hour) last.values.push(celsius)
    else hours.push({ hourMs: hour, values: [celsius] })
  }
  return hours.map(({ hourMs: hour, values }) => ({
    hourMs: hour,
    low: values.reduce((low, value) => Math.min(low, value)),
    mean: values.reduce((sum, value) => sum + value, 0) / values.length,
    high: values.reduce((high, value) => Math.max(high, value)),
    isLogged,
  }))
}
