import { instantWords, longDay } from '#app/_ui/dates.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { SwapView } from '#lib/swaps/view.ts'

export interface SaidIn {
  readonly timeZone: string
  readonly today: CivilDate
}

/** Whether one can claim, and until or from when, in a sentence. */
export function claimingWords(swap: SwapView, { timeZone, today }: SaidIn): string {
  const at = (instant: Date) => instantWords(instant, timeZone, today)
  switch (swap.claiming) {
    case 'not-opened':
      return `Not open yet. Claims are planned from ${at(swap.claimsOpenAt)} to ${at(swap.claimsCloseAt)}.`
    case 'opens-later':
      return `Claims open ${at(swap.claimsOpenAt)} and close ${at(swap.claimsCloseAt)}.`
    case 'open':
      return `Claim, or change your mind, until ${at(swap.claimsCloseAt)}.`
    case 'closed':
      return `Claims closed ${at(swap.claimsCloseAt)}. What you claimed waits for you at the swap.`
    case 'finished':
      return 'This swap is finished.'
  }
}

/** "Sunday 21 February, Marrow Lane hall". */
export const whenAndWhere = (swap: SwapView, { today }: SaidIn): string =>
  `${longDay(swap.heldOn, today)}, ${swap.place}`

/** How a swap stands, for a list. */
export const standingWords: Readonly<Record<SwapView['claiming'], string>> = {
  'not-opened': 'planned',
  'opens-later': 'claims open later',
  open: 'claims open',
  closed: 'claims closed',
  finished: 'finished',
}
