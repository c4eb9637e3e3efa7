import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { assumedCelsius } from '#lib/viability/assumed-celsius.ts'
import type { CelsiusRange } from '#lib/viability/scenarios.ts'
import { stintsOfReadings } from '#lib/viability/stints-of-readings.ts'
import { longestBridgeMs, type StorageStint, type TemperatureBasis } from '#lib/viability/storage-history.ts'
import type { DayClock } from '#lib/wood/day-clock.ts'
import type { ReadingHour } from '#lib/wood/reading-hours.ts'
import type { StayInStore } from '#lib/wood/stay-in-store.ts'

/** The temperature of a stay, °C, and how it is known. */
export interface StayTemperature {
  readonly celsius: CelsiusRange
  readonly basis: TemperatureBasis
}

const dayMs = 86_400_000
/** A logger speaks for a stay when it was never silent for longer than this. */
const longestSilenceMs = 4 * dayMs

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)
const toHundredth = (value: number) => Math.round(value * 100) / 100

/** What was read during a stay. A stay that goes on has no end: what is read later belongs to it. */
function hoursDuring(stay: StayInStore, hours: readonly ReadingHour[]): readonly ReadingHour[] {
  const [fromMs, toMs] = [stay.from.getTime(), stay.to?.getTime() ?? Infinity]
  return hours.filter(({ hourMs }) => hourMs >= fromMs && hourMs <= toMs)
}

/** Whether readings stand so close together that none of the time of a stay is far from one. */
function coversAll(stay: StayInStore, hours: readonly ReadingHour[]): boolean {
  const read = hours.map(({ hourMs }) => hourMs)
  const marks = [stay.from.getTime(), ...read, ...(stay.to ? [stay.to.getTime()] : [])]
  return marks.every((mark, i) => mark - (marks[i - 1] ?? mark) <= longestSilenceMs)
}

/** The means of the days (UTC) on which something was read. */
function dailyMeans(hours: readonly ReadingHour[]): number[] {
  const days = new Map<number, number[]>()
  for (const { hourMs, mean } of hours) {
    const day = Math.floor(hourMs / dayMs)
    const values = days.get(day)
    if (values) values.push(mean)
    else days.set(day, [mean])
  }
  return [...days.values()].map((values) => sum(values) / values.length)
}

/**
 * The mean of some readings, with two standard errors to either side, but never beyond the lowest and the highest
 * of them: many readings tell the mean of a stay well, however much a fridge swings.
 */
function meanRange(values: readonly number[], lowest: number, highest: number): CelsiusRange {
  const mid = sum(values) / values.length
  const squares = sum(values.map((value) => (value - mid) ** 2))
  const doubt = values.length < 2 ? 0 : 2 * Math.sqrt(squares / (values.length - 1) / values.length)
  return {
    low: toHundredth(Math.max(Math.min(lowest, mid), mid - doubt)),
    mid: toHundredth(mid),
    high: toHundredth(Math.min(Math.max(highest, mid), mid + doubt)),
  }
}

/** The temperature that a stay is taken to have had where nothing was read in it. */
const unreadTemperature = ({ storeKind, typedCelsius }: StayInStore) =>
  ({
    celsius: assumedCelsius(storeKind, typedCelsius),
    basis: typedCelsius === null ? 'assumed' : 'typed',
  }) as const

const during = (stay: StayInStore, read: readonly ReadingHour[]): StayTemperature => {
  if (read.length === 0) return unreadTemperature(stay)
  const isLogged = read.every((hour) => hour.isLogged) && coversAll(stay, read)
  const noted = isLogged || stay.typedCelsius === null ? [] : [stay.typedCelsius]
  const lowest = read.reduce((low, hour) => Math.min(low, hour.lowest), noted[0] ?? Infinity)
  const highest = read.reduce((high, hour) => Math.max(high, hour.highest), noted[0] ?? -Infinity)
  return {
    celsius: meanRange([...noted, ...dailyMeans(read)], lowest, highest),
    basis: isLogged ? 'logger' : 'typed',
  }
}

/**
 * One temperature for a whole stay, °C, and how it is known. A logger that covered the stay stands alone; otherwise
 * what the keeper noted for the store counts as one reading more. With nothing read, the noted temperature is taken as
 * it stands, and without it the range that is assumed for such a place. That the mean of the daily means stands for a
 * stay, and two standard errors for the doubt in it, are conventions of this program.
 *
 * @param hours what was read in the store, in the order of time.
 */
export const temperatureOfStay = (stay: StayInStore, hours: readonly ReadingHour[]): StayTemperature =>
  during(stay, hoursDuring(stay, hours))

/** What was read in a store on one day of the group's calendar, °C. */
export interface DayRead {
  readonly day: CivilDate
  readonly lowest: number
  readonly highest: number
  readonly isLogged: boolean
}

/** What was read during a stay, by day, in the order of time. */
export function daysOfStay(stay: StayInStore, hours: readonly ReadingHour[], clock: DayClock): DayRead[] {
  const days = new Map<CivilDate, DayRead>()
  for (const { hourMs, lowest, highest, isLogged } of hoursDuring(stay, hours)) {
    const day = clock.dayOf(new Date(hourMs))
    const known = days.get(day)
    days.set(day, {
      day,
      lowest: Math.min(lowest, known?.lowest ?? lowest),
      highest: Math.max(highest, known?.highest ?? highest),
      isLogged: isLogged && (known?.isLogged ?? true),
    })
  }
  return [...days.values()]
}

/** Whether a logger wrote so often that its readings can be followed from one to the next. */
const isDense = (logged: readonly ReadingHour[]): boolean =>
  logged.some(({ hourMs }, i) => hourMs - (logged[i - 1]?.hourMs ?? -Infinity) <= longestBridgeMs)

/**
 * A stay as the model goes through it. Where a logger wrote at least every six hours its readings are followed hour by
 * hour, and what it leaves open counts as somebody read it, or as noted, or as assumed. Everything else is one
 * temperature from beginning to end, as `temperatureOfStay` has it.
 *
 * @param hours what was read in the store, in the order of time.
 */
export function stintsOfStay(stay: StayInStore, hours: readonly ReadingHour[]): StorageStint[] {
  const { from, to } = stay
  const read = hoursDuring(stay, hours)
  const logged = read.filter(({ isLogged }) => isLogged)
  if (!isDense(logged)) return [{ from, to, ...during(stay, read) }]
  const byHand = read.filter(({ isLogged }) => !isLogged)
  const { celsius, basis } = during(stay, byHand)
  return stintsOfReadings({
    from,
    to,
    readings: logged.map(({ hourMs, mean }) => ({ at: new Date(hourMs), celsius: mean })),
    basis: 'logger',
    unread: celsius,
    unreadBasis: basis === 'assumed' ? 'assumed' : 'typed',
  })
}
