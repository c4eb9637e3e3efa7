/** How many sticks make a share and how many shares a lot gives. */
export interface ShareSizes {
  readonly sticksPerShare: number
  readonly shares: number
}

/**
 * A first suggestion for a lot: two sticks to a share, because a second stick saves a first graft that fails,
 * and single sticks where a lot is too small to go round. Common practice, no source; the organiser decides.
 *
 * @param sticks what lies in the store
 */
export function suggestShares(sticks: number): ShareSizes | null {
  if (sticks < 1) return null
  const sticksPerShare = sticks >= 8 ? 2 : 1
  return { sticksPerShare, shares: Math.floor(sticks / sticksPerShare) }
}

/** Shares that can still be claimed: of the offer, and of the sticks that are really there. */
export function sharesLeft(offer: {
  readonly shares: number
  readonly sharesClaimed: number
  /** Kept for people of the waiting list. */
  readonly sharesReserved: number
  readonly sticksPerShare: number
  readonly sticksInStore: number
}): number {
  const offered = offer.shares - offer.sharesClaimed
  const there = Math.floor(offer.sticksInStore / offer.sticksPerShare)
  return Math.max(0, Math.min(offered, there) - offer.sharesReserved)
}
