import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import { assumedCelsius } from '#lib/viability/assumed-celsius.ts'
import { cutDatesFor } from '#lib/viability/latest-cut-date.ts'
import { type Lengthening, longerWhenColder } from '#lib/viability/longer-when-colder.ts'
import { sticksNeeded } from '#lib/viability/sticks-needed.ts'
import { stintsOfReadings } from '#lib/viability/stints-of-readings.ts'
import {
  longestBridgeMs,
  type StorageHistoryRefusal,
  type StorageStint,
  type TemperatureBasis,
} from '#lib/viability/storage-history.ts'
import type { StorageProfile } from '#lib/viability/storage-profiles.ts'
import {
  type ViabilityWindow,
  type ViabilityWindowInput,
  viabilityWindow,
} from '#lib/viability/viability-window.ts'
import { warmestStorageFor } from '#lib/viability/warmest-storage.ts'
import { type WindowState, windowState } from '#lib/viability/window-state.ts'
import { type CutDays, cutDays } from '#lib/wood/cut-days.ts'
import { dayClock } from '#lib/wood/day-clock.ts'
import { type KeptWindow, profileOf } from '#lib/wood/window-of-lot.ts'
import type { WindowQuestion } from '#lib/wood/window-question.ts'

/** What is said of a day on which the wood is wanted. */
export interface OnSwapDay {
  readonly day: CivilDate
  readonly state: WindowState
  /** Kept at one temperature: between which days to cut so that the wood is good then; null when no day will do. */
  readonly cutToBeGood: CutDays | null
  /** At least usable then, before its likely limit. */
  readonly cutToBeUsable: CutDays | null
  /** The temperature that these days are reckoned for, °C. */
  readonly celsius: number
  /** The warmest steady store in which this wood is still good then, °C; null when no store is cold enough. */
  readonly warmestCelsius: number | null
}

/** The answer of the calculator. Days are those of the wall, whatever the time zone. */
export interface WindowAnswer {
  readonly profile: StorageProfile
  /** Budwood of plants that drop their leaves keeps as such, whatever the plant. */
  readonly isInLeaf: boolean
  readonly cutOn: CivilDate
  readonly today: CivilDate
  readonly window: KeptWindow
  /** Days from the cut to each limit. */
  readonly days: { readonly early: number; readonly likely: number; readonly late: number }
  readonly used: ViabilityWindow['used']
  readonly evidence: ViabilityWindow['evidence']
  /** Where its temperatures come from, one after another. */
  readonly stays: readonly {
    readonly from: CivilDate
    readonly to: CivilDate | null
    readonly basis: TemperatureBasis
  }[]
  readonly lengthening: Lengthening | null
  readonly swap: OnSwapDay | null
  /** Sticks to take so that with 90 % at least one takes; null where no rate was given. */
  readonly sticks: number | null
}

const clock = dayClock('UTC')
const assumedFridge = assumedCelsius('fridge', null)

/** Temperatures as they were pasted: followed where they are dense, otherwise each holds until the next. */
function stintsOfLines({ history = [], celsius }: WindowQuestion, cutAt: Date): StorageStint[] {
  const readings = history.map(({ wallMs, celsius: read }) => ({
    at: new Date(Math.max(wallMs, cutAt.getTime())),
    celsius: read,
  }))
  const isDense = readings.some(
    ({ at }, i) => at.getTime() - (readings[i - 1]?.at.getTime() ?? -Infinity) <= longestBridgeMs,
  )
  if (isDense) {
    return stintsOfReadings({
      from: cutAt,
      to: null,
      readings,
      basis: 'logger',
      unread: assumedCelsius('fridge', celsius ?? null),
      unreadBasis: celsius === undefined ? 'assumed' : 'typed',
    })
  }
  return readings.map(({ at, celsius: read }, i) => ({
    from: i === 0 ? cutAt : at,
    to: readings[i + 1]?.at ?? null,
    celsius: { low: read, mid: read, high: read },
    basis: 'typed',
  }))
}

function stintsOf(question: WindowQuestion, cutAt: Date): StorageStint[] {
  if (question.history && question.history.length > 0) return stintsOfLines(question, cutAt)
  const { celsius } = question
  return [
    {
      from: cutAt,
      to: null,
      celsius: assumedCelsius('fridge', celsius ?? null),
      basis: celsius === undefined ? 'assumed' : 'typed',
    },
  ]
}

/** Stints by day, with neighbours that are known in the same way as one. */
function staysOf(stints: readonly StorageStint[]): WindowAnswer['stays'] {
  const stays: { from: CivilDate; to: CivilDate | null; basis: TemperatureBasis }[] = []
  for (const { from, to, basis } of stints) {
    const last = stays.at(-1)
    const until = to && clock.dayOf(to)
    if (last?.basis === basis) last.to = until
    else stays.push({ from: clock.dayOf(from), to: until, basis })
  }
  return stays
}

function onSwapDay(
  question: WindowQuestion,
  input: ViabilityWindowInput,
  limits: Pick<KeptWindow, 'early' | 'likely' | 'late'>,
): OnSwapDay | null {
  const { swap } = question
  if (swap === undefined) return null
  const { profile, cutAt, packaging, budStage } = input
  const wood = { profile, ...(packaging && { packaging }), ...(budStage !== undefined && { budStage }) }
  const celsius = question.celsius ?? input.stints.at(-1)?.celsius.mid ?? assumedFridge.mid
  const neededAt = clock.noon(swap)
  const dates = cutDatesFor({ ...wood, neededAt, celsius })
  const warmest = warmestStorageFor({ ...wood, cutAt, neededAt })
  return {
    day: swap,
    state: windowState(limits, swap),
    celsius: Math.round(celsius * 10) / 10,
    cutToBeGood: dates.kind === 'cut-dates' ? cutDays(dates.good, clock) : null,
    cutToBeUsable: dates.kind === 'cut-dates' ? cutDays(dates.soon, clock) : null,
    warmestCelsius: warmest.kind === 'celsius' ? warmest.celsius : null,
  }
}

/**
 * How long wood keeps that nobody has recorded: the answer to a question with its temperatures, and for a day on which
 * it is wanted when to cut and how cold to keep it. The model is that of every lot, and so is its caution.
 *
 * @returns a refusal of the model for input that does not describe wood that could exist.
 */
export function answerWindow(
  question: WindowQuestion,
  today: CivilDate,
): WindowAnswer | StorageHistoryRefusal {
  const cutAt = clock.noon(question.cut)
  const profile = profileOf({ kind: question.wood, storageProfile: question.crop })
  const input: ViabilityWindowInput = {
    profile,
    cutAt,
    asOf: new Date(Math.max(clock.noon(today).getTime(), cutAt.getTime())),
    stints: stintsOf(question, cutAt),
    ...(question.packing && { packaging: question.packing }),
    ...(question.buds !== undefined && { budStage: question.buds }),
  }
  const window = viabilityWindow(input)
  if (window.kind === 'refused') return window
  const limits = {
    early: clock.dayOf(window.early.at),
    likely: clock.dayOf(window.likely.at),
    late: clock.dayOf(window.late.at),
  }
  return {
    profile,
    isInLeaf: profile.key === 'summer_budwood',
    cutOn: question.cut,
    today,
    window: {
      kind: 'window',
      ...limits,
      limitedBy: window.likely.limitedBy,
      state: windowState(limits, today),
      flags: window.flags,
    },
    days: {
      early: daysBetween(question.cut, limits.early),
      likely: daysBetween(question.cut, limits.likely),
      late: daysBetween(question.cut, limits.late),
    },
    used: window.used,
    evidence: window.evidence,
    stays: staysOf(input.stints),
    lengthening: longerWhenColder(input),
    swap: onSwapDay(question, input, limits),
    sticks: question.rate === undefined ? null : sticksNeeded(question.rate / 100),
  }
}
