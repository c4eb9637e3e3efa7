/** When an event was seen (`true`, or the number of its kind from 1), or when the watching ended without (`false`, 0). */
export interface TimedEvent {
  readonly time: number
  readonly event: boolean | number
}

export interface EventRow {
  readonly time: number
  /** Watched until then at least. */
  readonly atRisk: number
  /** Events of each kind at that time. */
  readonly events: readonly number[]
}

/** Observations by time, rising, with what happened then. Throws RangeError for what are no times or kinds. */
export function eventTable(observations: readonly TimedEvent[], kinds: number): EventRow[] {
  if (observations.length === 0) throw new RangeError('There is nothing to follow')
  const byTime = new Map<number, number[]>()
  for (const { time, event } of observations) {
    const kind = Number(event)
    if (!(time >= 0 && time < Infinity)) throw new RangeError(`Not a time: ${time}`)
    if (!Number.isSafeInteger(kind) || kind < 0 || kind > kinds)
      throw new RangeError(`Not an event: ${event}`)
    const counts = byTime.get(time) ?? new Array<number>(kinds + 1).fill(0)
    counts[kind] = (counts[kind] ?? 0) + 1
    byTime.set(time, counts)
  }
  let atRisk = observations.length
  return [...byTime]
    .sort(([a], [b]) => a - b)
    .map(([time, counts]) => {
      const row = { time, atRisk, events: counts.slice(1) }
      atRisk -= counts.reduce((sum, count) => sum + count, 0)
      return row
    })
}
