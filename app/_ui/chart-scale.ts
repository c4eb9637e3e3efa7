import { monthStart, nextMonth } from '#app/_ui/dates.ts'
import { addDays, type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'

// Charts are drawn without a viewBox: x in per cent of the page, y in pixels. Bars stretch, type keeps its size.
// What collides is therefore judged at the narrowest width a chart is given, that of a 320 px phone.
export const narrowest = 280

/** A share of the width as SVG takes it. */
export const percent = (value: number): string => `${value.toFixed(2)}%`

/** Per cent of the width for a day; outside 0 to 100 for a day off the axis. */
export function dayScale(from: CivilDate, to: CivilDate): (date: CivilDate) => number {
  const span = Math.max(1, daysBetween(from, to))
  return (date) => (daysBetween(from, date) / span) * 100
}

export const clampPercent = (value: number): number => Math.min(100, Math.max(0, value))

// Advance widths of the text face in em, measured, in five classes.
const advances: readonly (readonly [characters: string, em: number])[] = [
  [" .,:;ijl()'’", 0.27],
  ['frt-I1', 0.38],
  ['mMW', 0.87],
  ['wOQDGHNU', 0.7],
]

function advance(character: string): number {
  const found = advances.find(([characters]) => characters.includes(character))
  if (found) return found[1]
  return /[a-z]/.test(character) ? 0.54 : 0.62
}

/** About how wide a text will be, in pixels: enough to keep labels apart. */
export const textWidth = (text: string, size = 14, bold = false): number =>
  Math.ceil([...text].reduce((sum, character) => sum + advance(character), 0) * size * (bold ? 1.04 : 1))

/** Where a label goes: its anchor and how far it is moved, and what it covers at the narrowest width. */
export interface PlacedLabel {
  readonly textAnchor: 'start' | 'middle' | 'end'
  readonly dx: number
  readonly from: number
  readonly to: number
}

/**
 * Centres a label of `width` pixels on `at` per cent, or moves it just far enough to stay between `min` and `max`
 * pixels of the narrowest chart. What fits there fits in every wider one.
 */
export function placeLabel(at: number, width: number, min = 0, max = narrowest): PlacedLabel {
  const x = (at / 100) * narrowest
  const start = Math.max(min, Math.min(x - width / 2, max - width))
  const from = Math.round(start)
  const to = Math.round(start + width)
  if (start <= min && x - width / 2 < min) return { textAnchor: 'start', dx: Math.round(min - x), from, to }
  if (x + width / 2 > max) return { textAnchor: 'end', dx: Math.round(max - x), from, to }
  return { textAnchor: 'middle', dx: 0, from, to }
}

/** True when two labels would touch at the narrowest width. */
export const collide = (a: PlacedLabel, b: PlacedLabel, gap = 8): boolean =>
  a.from < b.to + gap && b.from < a.to + gap

/** The first days of the months on an axis, its first day left out unless it is one of them. */
export function monthsOn(from: CivilDate, to: CivilDate): CivilDate[] {
  const months: CivilDate[] = []
  for (let month = monthStart(from); month <= to; month = nextMonth(month))
    if (month >= from) months.push(month)
  return months
}

/** Every how many of `count` marks a label of `width` pixels fits, on an axis of `available` pixels. */
export const labelStep = (count: number, width: number, available = narrowest): number =>
  Math.max(1, Math.ceil((count * width) / available))

/** An axis that several windows share, so that rows compare by eye. */
export interface DayAxis {
  readonly from: CivilDate
  readonly to: CivilDate
}

const longestAxisDays = 420

/** The axis for a list of windows: whole months around all of them and around today. */
export function sharedAxis(
  rows: readonly { readonly cut: CivilDate; readonly late: CivilDate }[],
  today: CivilDate,
  swap?: CivilDate | null,
): DayAxis {
  const starts = [...rows.map((row) => row.cut), today].sort()
  const ends = [...rows.map((row) => row.late), today, ...(swap ? [swap] : [])].sort()
  const from = monthStart(starts[0] ?? today)
  const last = nextMonth(ends.at(-1) ?? today)
  const [to = last] = [last, addDays(from, longestAxisDays)].sort()
  return { from, to }
}
