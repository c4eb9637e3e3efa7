import {
  clampPercent,
  collide,
  dayScale,
  labelStep,
  monthsOn,
  narrowest,
  type PlacedLabel,
  placeLabel,
  textWidth,
} from '#app/_ui/chart-scale.ts'
import { dayMonth, monthName } from '#app/_ui/dates.ts'
import { clockWords, type KeepingWindow, limitWords } from '#app/_ui/keeping-window.ts'
import { addDays, type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import { windowState } from '#lib/viability/window-state.ts'

export interface RibbonDates {
  readonly cut: CivilDate
  readonly window: KeepingWindow
  readonly today: CivilDate
  readonly swap: CivilDate | null
}

const latest = (a: CivilDate, b: CivilDate): CivilDate => (a > b ? a : b)
const earliest = (a: CivilDate, b: CivilDate): CivilDate => (a < b ? a : b)

/**
 * The last day of the axis. It holds the late mark with some room; a today or a swap after that is taken in unless
 * it would squeeze the window into less than five eighths of the width.
 */
export function ribbonEnd({ cut, window, today, swap }: RibbonDates): CivilDate {
  const late = latest(window.late, addDays(cut, 1))
  const span = daysBetween(cut, late)
  const room = Math.max(2, Math.round(span * 0.07), Math.min(10, Math.round(span * 0.2)))
  const furthest = addDays(cut, Math.round(span * 1.6) + 2)
  const wanted = [today, swap].reduce<CivilDate>(
    (end, day) => (day && addDays(day, room) <= furthest ? latest(end, addDays(day, room)) : end),
    addDays(late, room),
  )
  return earliest(wanted, latest(furthest, addDays(late, room)))
}

export interface RibbonLabel extends PlacedLabel {
  readonly text: string
  readonly at: number
  readonly row: number
}

export interface RibbonTick {
  readonly at: number
  readonly label: string | null
}

export interface RibbonLayout {
  readonly scale: (date: CivilDate) => number
  readonly early: RibbonLabel
  readonly likely: RibbonLabel
  readonly late: RibbonLabel
  /** How much lower the stick lies because a third row of labels was needed. */
  readonly lift: number
  readonly ticks: readonly RibbonTick[]
}

/** Where everything above and below the stick goes, so that nothing collides on a phone. */
export function ribbonLayout(dates: RibbonDates): RibbonLayout {
  const { cut, window } = dates
  const end = ribbonEnd(dates)
  const scale = dayScale(cut, end)
  const at = (day: CivilDate) => clampPercent(scale(day))
  const likelyAt = at(window.likely)
  const leader = (likelyAt / 100) * narrowest
  const label = (text: string, day: CivilDate, row: number, bold: boolean, min: number, max: number) => {
    const width = textWidth(text, 14, bold)
    // Kept on its own side of the likely limit's leader line where it fits there.
    const fits = max - min >= width
    return { text, at: at(day), row, ...placeLabel(at(day), width, fits ? min : 0, fits ? max : narrowest) }
  }
  const likelyWords = `${limitWords(window.likely, dates)}, ${clockWords[window.limitedBy]}`
  const likelyText = ['Likely limit: ', 'Likely: ']
    .map((start) => start + likelyWords)
    .find((text) => textWidth(text, 14, true) <= narrowest)
  const early = label(`Early: ${limitWords(window.early, dates)}`, window.early, 1, false, 0, leader - 6)
  const late = label(`Late: ${limitWords(window.late, dates)}`, window.late, 1, false, leader + 6, narrowest)
  const crowded = collide(early, late)
  return {
    scale,
    likely: label(likelyText ?? likelyWords, window.likely, 0, true, 0, narrowest),
    early: crowded ? { ...early, row: 2 } : early,
    late,
    lift: crowded ? 20 : 0,
    ticks: daysBetween(cut, end) <= 45 ? dayTicks(cut, end, scale) : monthTicks(cut, end, scale),
  }
}

function monthTicks(from: CivilDate, to: CivilDate, scale: (date: CivilDate) => number): RibbonTick[] {
  const months = monthsOn(from, to)
  const step = labelStep(months.length, 30)
  return months
    .filter((month) => scale(month) <= 98)
    .map((month, i) => ({
      at: scale(month),
      label: i % step === 0 && scale(month) <= 92 ? monthName(month) : null,
    }))
}

function dayTicks(from: CivilDate, to: CivilDate, scale: (date: CivilDate) => number): RibbonTick[] {
  const days = daysBetween(from, to)
  const step = [1, 2, 3, 7, 14].find((n) => (n / days) * narrowest >= 50) ?? 14
  return Array.from({ length: Math.floor(days / step) + 1 }, (_, i) => addDays(from, i * step))
    .filter((day) => scale(day) <= 98)
    .map((day) => ({ at: scale(day), label: scale(day) <= 86 ? dayMonth(day) : null }))
}

const inSentence = {
  good: 'good',
  soon: 'to be used soon',
  test: 'to be tested first',
  past: 'past',
} as const

/** The ribbon in sentences, for those who hear it. */
export function describeRibbon(dates: RibbonDates): string {
  const { cut, window, today, swap } = dates
  const said = (limit: CivilDate) => limitWords(limit, dates)
  const day = daysBetween(cut, today)
  const sentences = [
    `Cut ${dayMonth(cut)}.`,
    `Early limit: ${said(window.early)}; good until then.`,
    `Likely limit: ${said(window.likely)}, set by ${clockWords[window.limitedBy]}; use soon until then.`,
    `Late limit: ${said(window.late)}; test first until then, past after it.`,
    day >= 0 ? `Today is day ${day}: ${inSentence[windowState(window, today)]}.` : null,
    swap ? `The swap is on ${dayMonth(swap)}: by then ${inSentence[windowState(window, swap)]}.` : null,
  ]
  return sentences.filter((sentence) => sentence !== null).join(' ')
}
