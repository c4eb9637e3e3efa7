import type { TemperatureUnit } from '#app/_ui/measures.ts'

/** What was read within an hour, °C. */
export interface ReadingHour {
  readonly hourMs: number
  readonly low: number
  readonly mean: number
  readonly high: number
  readonly isLogged: boolean
}

/** A range of temperatures, °C. */
export interface Band {
  readonly low: number
  readonly high: number
}

const hourMs = 3_600_000
/** A longer silence is a gap in the line. */
const longestSilenceMs = 6 * hourMs
/** So many points are drawn at most; more would not be told apart. */
const mostPoints = 240

/** Readings that follow each other closely enough to be joined. */
export interface ReadingRun {
  readonly fromMs: number
  readonly toMs: number
  readonly isLogged: boolean
  readonly points: readonly ReadingHour[]
}

/** One point for several hours: their lowest and highest, and the mean of their means. */
function merged(hours: readonly ReadingHour[], first: ReadingHour): ReadingHour {
  const mean = hours.reduce((sum, hour) => sum + hour.mean, 0) / hours.length
  return {
    hourMs: (first.hourMs + (hours.at(-1)?.hourMs ?? first.hourMs)) / 2,
    low: hours.reduce((low, hour) => Math.min(low, hour.low), first.low),
    mean,
    high: hours.reduce((high, hour) => Math.max(high, hour.high), first.high),
    isLogged: hours.every((hour) => hour.isLogged),
  }
}

function thinned(hours: readonly ReadingHour[], stepMs: number): ReadingHour[] {
  const buckets = new Map<number, ReadingHour[]>()
  for (const hour of hours) {
    const key = Math.floor(hour.hourMs / stepMs)
    const bucket = buckets.get(key)
    if (bucket) bucket.push(hour)
    else buckets.set(key, [hour])
  }
  return [...buckets.values()].flatMap((bucket) => {
    const [first] = bucket
    return first ? [merged(bucket, first)] : []
  })
}

/** Hours in the order of time as runs without a gap, thinned to what can be seen. */
export function readingRuns(hours: readonly ReadingHour[]): ReadingRun[] {
  const groups: ReadingHour[][] = []
  for (const hour of hours) {
    const group = groups.at(-1)
    const before = group?.at(-1)
    if (group && before && hour.hourMs - before.hourMs <= longestSilenceMs) group.push(hour)
    else groups.push([hour])
  }
  const [first, last] = [hours[0], hours.at(-1)]
  const spanMs = first && last ? last.hourMs - first.hourMs : 0
  const stepMs = Math.max(hourMs, spanMs / mostPoints)
  return groups.flatMap((group) => {
    const [from, to] = [group[0], group.at(-1)]
    if (!from || !to) return []
    return [
      {
        fromMs: from.hourMs,
        toMs: to.hourMs,
        isLogged: group.every((hour) => hour.isLogged),
        points: thinned(group, stepMs),
      },
    ]
  })
}

/** The lowest and highest of some hours. */
export const extremesOf = (hours: readonly ReadingHour[]): Band => ({
  low: hours.reduce((low, hour) => Math.min(low, hour.low), Infinity),
  high: hours.reduce((high, hour) => Math.max(high, hour.high), -Infinity),
})

/** The temperatures that a chart shows: all that was read, freezing, what is assumed, and some air. */
export function rangeShown(hours: readonly ReadingHour[], assumed: Band | null): Band {
  const { low, high } = extremesOf(hours)
  const bottom = Math.min(low, 0, assumed?.low ?? 0)
  const top = Math.max(high, 4, assumed?.high ?? 0)
  const air = (top - bottom) * 0.08
  return { low: bottom - air, high: top + air }
}

/** Round degrees in the reader's unit for the lines of a chart, as °C. */
export function degreeLines({ low, high }: Band, unit: TemperatureUnit): number[] {
  const toUnit = (celsius: number) => (unit === 'C' ? celsius : celsius * 1.8 + 32)
  const toCelsius = (value: number) => (unit === 'C' ? value : (value - 32) / 1.8)
  const [from, to] = [toUnit(low), toUnit(high)]
  const step = [1, 2, 5, 10, 20, 50].find((size) => (to - from) / size <= 5) ?? 50
  const first = Math.ceil(from / step)
  return Array.from({ length: Math.floor(to / step) - first + 1 }, (_, i) => toCelsius((first + i) * step))
}

const weekMs = 7 * 24 * hourMs

/** What was read in a week, for a table. */
export interface WeekRead extends Band {
  readonly fromMs: number
  readonly mean: number
  /** Hours of the week in which something was read. */
  readonly hours: number
}

/** Hours by week from the first on; weeks in which nothing was read are left out. */
export function weeksRead(hours: readonly ReadingHour[]): WeekRead[] {
  const [first] = hours
  if (!first) return []
  const weeks = new Map<number, ReadingHour[]>()
  for (const hour of hours) {
    const at = Math.floor((hour.hourMs - first.hourMs) / weekMs)
    const week = weeks.get(at)
    if (week) week.push(hour)
    else weeks.set(at, [hour])
  }
  return [...weeks].map(([at, read]) => ({
    fromMs: first.hourMs + at * weekMs,
    ...extremesOf(read),
    mean: read.reduce((sum, hour) => sum + hour.mean, 0) / read.length,
    hours: read.length,
  }))
}
