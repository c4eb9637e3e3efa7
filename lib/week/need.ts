import type { DueCheck } from '#lib/attempts/queries.ts'
import type { CareDue } from '#lib/care/view.ts'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import type { WindowState } from '#lib/viability/window-state.ts'
import type { KeptWindow } from '#lib/wood/window-of-lot.ts'

/** A swap as far as a need names it. */
export interface SwapInNeed {
  readonly id: string
  readonly name: string
  readonly heldOn: CivilDate
}

/** Sticks that will not keep much longer. */
export interface WoodInNeed {
  readonly code: string
  readonly varietyName: string | null
  readonly commonName: string | null
  readonly cutOn: CivilDate
  readonly sticks: number
  readonly isHeld: boolean
  /** Null for rooted plants and wood whose record cannot be reckoned with. */
  readonly likely: CivilDate | null
  readonly limitedBy: KeptWindow['limitedBy'] | null
  readonly state: WindowState | null
}

export interface HoldInNeed {
  /** The lot's code, or the tree's for a hold on a limb. */
  readonly on: 'lot' | 'limb'
  readonly code: string
  readonly varietyName: string | null
  readonly reason: string
  readonly placedOn: CivilDate
}

/** Something that waits for the person who asks. */
export type Need = {
  /** The day it is wanted by; null when no day is set. */
  readonly by: CivilDate | null
  readonly isLate: boolean
} & (
  | { readonly kind: 'claims-will-open'; readonly swap: SwapInNeed; readonly at: Date }
  | {
      readonly kind: 'claims-close'
      readonly swap: SwapInNeed
      readonly at: Date
      readonly claims: number
      readonly sticks: number
    }
  | { readonly kind: 'open-the-swap'; readonly swap: SwapInNeed; readonly since: Date }
  | {
      readonly kind: 'collect'
      readonly swap: SwapInNeed
      readonly claims: number
      readonly sticks: number
    }
  | {
      readonly kind: 'hand-over'
      readonly swap: SwapInNeed
      readonly people: number
      readonly sticks: number
    }
  | { readonly kind: 'finish-the-swap'; readonly swap: SwapInNeed }
  | { readonly kind: 'wood-near-limit'; readonly wood: readonly WoodInNeed[] }
  | { readonly kind: 'wood-in-hand'; readonly wood: readonly WoodInNeed[] }
  | { readonly kind: 'wood-without-name'; readonly wood: readonly WoodInNeed[] }
  | { readonly kind: 'look'; readonly due: DueCheck }
  | { readonly kind: 'more-looks'; readonly count: number }
  | {
      /** One task, for all the batches that ask for it. */
      readonly kind: 'care'
      readonly title: string
      /** A tie that may strangle. */
      readonly isStrong: boolean
      readonly batches: readonly CareDue['batch'][]
    }
  | { readonly kind: 'holds'; readonly holds: readonly HoldInNeed[] }
  | {
      readonly kind: 'disease-reported'
      readonly attemptId: string
      readonly varietyName: string
      readonly growerName: string
      readonly pieces: number
      readonly seenOn: CivilDate
    }
  | { readonly kind: 'not-joined'; readonly people: number; readonly expired: number }
)

const lastDay = '9999-12-31'

const mayStrangle = (need: Need): boolean => need.kind === 'care' && need.isStrong

/** A tie that may strangle first, then what is late, then by day; what has no day last. */
export function byUrgency(a: Need, b: Need): number {
  if (mayStrangle(a) !== mayStrangle(b)) return mayStrangle(a) ? -1 : 1
  if (a.isLate !== b.isLate) return a.isLate ? -1 : 1
  const [dayA, dayB] = [a.by ?? lastDay, b.by ?? lastDay]
  return dayA < dayB ? -1 : dayA > dayB ? 1 : 0
}

/** Whether a day is less than so many days away, or past. */
export const isWithin = (days: number, today: CivilDate, day: CivilDate): boolean =>
  daysBetween(today, day) <= days
