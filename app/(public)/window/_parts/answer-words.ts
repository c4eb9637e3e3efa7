import { recordedDay } from '#app/_ui/dates.ts'
import { clockWords } from '#app/_ui/keeping-window.ts'
import { counted, type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import { thirdOfMonth } from '#lib/viability/third-of-month.ts'
import type { OnSwapDay, WindowAnswer } from '#lib/wood/answer-window.ts'
import type { AskedWood } from '#lib/wood/window-question.ts'

/** Said wherever a window is. */
export const caution =
  'No published rule gives a shelf life for scion wood. This is a convention fitted to sparse trials: look at the wood before you use or discard it.'

export const woodWords: Readonly<Record<AskedWood, string>> = {
  scion_wood: 'scion wood',
  hardwood_cuttings: 'hardwood cuttings',
  budwood: 'budwood',
}

/** Under this many days from cut to likely limit, limits are spoken in days. */
const shortLifeDays = 21

const isShort = ({ days }: WindowAnswer) => days.likely < shortLifeDays

/** "mid March", with the year where it is not this one. */
const third = (day: CivilDate, today: CivilDate): string => {
  const words = thirdOfMonth(day)
  return day.slice(0, 4) === today.slice(0, 4) ? words : `${words} ${day.slice(0, 4)}`
}

/** How long it keeps, in one sentence. */
export function keepsWords(answer: WindowAnswer): string {
  const { window, days, today } = answer
  const limit = `${clockWords[window.limitedBy]} sets the limit`
  if (window.flags.includes('buds-open-at-cut'))
    return 'Its buds are open, so it does not keep as dormant wood: use it within days.'
  if (isShort(answer)) {
    return `Good for about ${counted(days.early, 'day')} from its cut, likely to keep for ${days.likely}, at most for ${days.late}; ${limit}.`
  }
  const said = (day: CivilDate) => third(day, today)
  return `Good to ${said(window.early)}, likely to keep to ${said(window.likely)}, at most to ${said(window.late)}; ${limit}.`
}

const swapStates: Record<OnSwapDay['state'], string> = {
  good: 'it is likely to be good still',
  soon: 'it is past its early limit: to be used at once',
  test: 'it is past its likely limit: nick the bark and look for green before it is given away',
  past: 'it is past every limit; it need not be dead, but nobody should count on it',
}

function cutDatesWords(answer: WindowAnswer, swap: OnSwapDay, unit: TemperatureUnit): string {
  const { cutToBeGood: good, celsius } = swap
  const kept = `Kept at ${temperature(celsius, unit)}, such wood`
  if (!good) return `${kept} is not good on that day, whenever it is cut.`
  const back = daysBetween(good.from, swap.day)
  if (isShort(answer))
    return `${kept} is good on that day if it is cut at most ${counted(back, 'day')} before it.`
  return `${kept} is good on that day if it is cut from ${third(good.from, answer.today)} on, while it is still dormant.`
}

/** What is said of the day on which it is wanted. */
export function swapWords(answer: WindowAnswer, unit: TemperatureUnit): string[] {
  const { swap, today } = answer
  if (!swap) return []
  const warmest =
    swap.warmestCelsius === null
      ? 'No steady store keeps wood cut on that day good until then.'
      : `Wood cut on that day is good until then in a store that is never warmer than about ${temperature(swap.warmestCelsius, unit)}.`
  return [
    `On ${recordedDay(swap.day, today)} ${swapStates[swap.state]}.`,
    cutDatesWords(answer, swap, unit),
    warmest,
  ]
}

/** How many sticks to take. */
export const sticksWords = (sticks: number, rate: string): string =>
  `If ${rate} of 100 take, ${counted(sticks, 'stick')} give a chance of 90 in 100 that at least one does. Take rather more: sticks of one lot tend to share their fate.`

/** The day of the cut and today, for the head of the answer. */
export const cutWords = ({ cutOn, today }: WindowAnswer): string =>
  cutOn > today ? `to be cut ${recordedDay(cutOn, today)}` : `cut ${recordedDay(cutOn, today)}`
