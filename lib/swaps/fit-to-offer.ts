import type { LedgerRefusal } from '#lib/ledger/refusals.ts'
import type { ProtectionStatus } from '#lib/platform/generated/enums.ts'

/** What decides whether a lot may be put into a swap. */
export interface LotFacts {
  readonly sticksInStore: number
  readonly openHold: { readonly reason: string; readonly placedAt: Date } | null
  /** Null while the limb has no name. */
  readonly variety: {
    readonly name: string
    readonly protection: ProtectionStatus
    readonly introducedYear: number | null
    readonly genus: string
    readonly family: string
  } | null
}

export interface SwapFacts {
  readonly heldInYear: number
  readonly allowsVitis: boolean
  /** A reason to offer what may be protected, given by somebody who may. */
  readonly isOverridden: boolean
}

/** Years after which protection that nobody has looked up is taken to have run out: the longest common term. */
const longestTermYears = 30

const mayBeProtected = (variety: NonNullable<LotFacts['variety']>, heldInYear: number): boolean => {
  if (variety.protection === 'unknown')
    return (variety.introducedYear ?? heldInYear) > heldInYear - longestTermYears
  return ['in_force', 'pending', 'breeders_right'].includes(variety.protection)
}

/**
 * Why a lot may not be offered in so many sticks; null when it may. The database asks the same of every offering
 * once more: this names the reason for each of many lots at once, where the database stops at the first.
 */
export function refusalToOffer(lot: LotFacts, swap: SwapFacts, sticksWanted: number): LedgerRefusal | null {
  const { variety, openHold } = lot
  if (openHold) return { kind: 'held', reason: openHold.reason, placedAt: openHold.placedAt.toISOString() }
  if (!variety) return { kind: 'unnamed-wood' }
  if (variety.family === 'Rutaceae' || (variety.genus === 'Vitis' && !swap.allowsVitis))
    return { kind: 'not-shared-here', genus: variety.genus }
  if (mayBeProtected(variety, swap.heldInYear) && !swap.isOverridden)
    return { kind: 'protected', variety: variety.name, protection: variety.protection }
  if (sticksWanted > lot.sticksInStore)
    return { kind: 'not-enough-sticks', left: lot.sticksInStore, account: 'store' }
  return null
}
