import { type CivilDate, civilDateIn, instantIn } from '#lib/kernel/civil-date.ts'

export interface WallTimes {
  readonly claimsOpenOn: CivilDate
  /** HH:MM. */
  readonly claimsOpenTime: string
  readonly claimsCloseOn: CivilDate
  readonly claimsCloseTime: string
}

const instantAt = (timeZone: string, day: CivilDate, clock: string): Date =>
  instantIn(timeZone, day, Number(clock.slice(0, 2)), Number(clock.slice(3, 5)))

/** The instants of a swap's claim times, out of what a clock on the wall in the group's zone shows. */
export const claimInstants = (timeZone: string, times: WallTimes) => ({
  claimsOpenAt: instantAt(timeZone, times.claimsOpenOn, times.claimsOpenTime),
  claimsCloseAt: instantAt(timeZone, times.claimsCloseOn, times.claimsCloseTime),
})

/** When sticks that nobody fetched go back; null while nobody has said. */
export const noShowInstant = (
  timeZone: string,
  times: { readonly noShowOn?: CivilDate | undefined; readonly noShowTime?: string | undefined },
): Date | null =>
  times.noShowOn === undefined || times.noShowTime === undefined
    ? null
    : instantAt(timeZone, times.noShowOn, times.noShowTime)

/** HH:MM on the wall in a zone at an instant. */
const wallTime = (timeZone: string, instant: Date): string =>
  new Intl.DateTimeFormat('en-GB', { timeZone, hourCycle: 'h23', hour: '2-digit', minute: '2-digit' }).format(
    instant,
  )

/** The other way round: the day and time to show in a form. */
export const wallTimesOf = (
  timeZone: string,
  instants: { readonly claimsOpenAt: Date; readonly claimsCloseAt: Date },
): WallTimes => ({
  claimsOpenOn: civilDateIn(timeZone, instants.claimsOpenAt),
  claimsOpenTime: wallTime(timeZone, instants.claimsOpenAt),
  claimsCloseOn: civilDateIn(timeZone, instants.claimsCloseAt),
  claimsCloseTime: wallTime(timeZone, instants.claimsCloseAt),
})

/** Whether members can claim at an instant, and if not, why. */
export type Claiming = 'not-opened' | 'opens-later' | 'open' | 'closed' | 'finished'

/** What a swap's status and times mean for claims at an instant. The closing instant itself is closed. */
export function claimingAt(
  swap: {
    readonly status: 'planned' | 'open' | 'finished'
    readonly claimsOpenAt: Date
    readonly claimsCloseAt: Date
  },
  now: Date,
): Claiming {
  if (swap.status === 'finished') return 'finished'
  if (now >= swap.claimsCloseAt) return 'closed'
  if (swap.status === 'planned') return 'not-opened'
  return now < swap.claimsOpenAt ? 'opens-later' : 'open'
}

/** The day and time to show in a form of when sticks go back; both empty while nobody has said. */
export const noShowWallTime = (timeZone: string, at: Date | null) => ({
  noShowOn: at ? civilDateIn(timeZone, at) : '',
  noShowTime: at ? wallTime(timeZone, at) : '',
})
