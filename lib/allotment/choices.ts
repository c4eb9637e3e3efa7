import type { DrawEntrant, DrawOffering, DrawRules } from '#lib/allotment/draw-list.ts'
import { heldByVariety } from '#lib/allotment/list-fingerprint.ts'

/** Who a share was for: anybody, or people it had been kept back for. */
export type ShareKind = 'open' | 'newcomer' | 'donor'

/** How much room a person has under the limits, as shares are added. */
export interface Room {
  readonly hasRoomFor: (variety: string) => boolean
  readonly take: (variety: string) => void
}

/** The room that the rules leave somebody who holds some shares already. */
export function roomOf(entrant: DrawEntrant, rules: DrawRules): Room {
  const taken = new Map(heldByVariety(entrant))
  let total = [...taken.values()].reduce((sum, shares) => sum + shares, 0)
  return {
    hasRoomFor: (variety) => total < rules.capPerMember && (taken.get(variety) ?? 0) < rules.capPerVariety,
    take: (variety) => {
      total += 1
      taken.set(variety, (taken.get(variety) ?? 0) + 1)
    },
  }
}

/**
 * What somebody takes of some lots: down their own ranking, whatever fits under both limits. A limit in all on top
 * of limits per variety makes what fits a laminar matroid, and the first-come choice from a matroid is
 * substitutable: losing an option never makes one unwanted that was wanted before. So the limits cost no stability.
 */
export function chosenByEntrant(
  entrant: DrawEntrant,
  lots: readonly string[],
  varietyOf: (lotCode: string) => string,
  rules: DrawRules,
): readonly string[] {
  const room = roomOf(entrant, rules)
  const offered = new Set(lots)
  return entrant.wishes.filter((lotCode) => {
    if (!offered.has(lotCode)) return false
    const variety = varietyOf(lotCode)
    if (!room.hasRoomFor(variety)) return false
    room.take(variety)
    return true
  })
}

export interface Applicant {
  readonly memberCode: string
  readonly isDonor: boolean
  readonly isNewcomer: boolean
}

export interface KeptApplicant {
  readonly memberCode: string
  readonly kind: ShareKind
}

/**
 * Whom a lot keeps, of people in the order of their best tickets. Open shares go first, by number alone, so that a
 * newcomer who would have won anyhow uses up no share kept for newcomers; then those kept for newcomers, then those
 * for donors, each by number. A share kept for people who are not there goes to the next of all, as an open one.
 * Each share so has an order of its own (Kominers & Sönmez 2016, Theoretical Economics 11:683–710; that open shares
 * go first, after Dur, Kominers, Pathak & Sönmez 2018, J Political Economy 126(6); both from memory).
 */
export function keptByLot(offering: DrawOffering, inOrder: readonly Applicant[]): readonly KeptApplicant[] {
  const { shares, newcomerShares = 0, donorShares = 0 } = offering
  const waiting = [...inOrder]
  const kept: KeptApplicant[] = []
  const give = (count: number, kind: ShareKind, isFor: (applicant: Applicant) => boolean) => {
    for (let i = 0; i < count; i++) {
      const at = waiting.findIndex(isFor)
      const [next] = waiting.splice(Math.max(at, 0), 1)
      if (!next) return
      kept.push({ memberCode: next.memberCode, kind: at < 0 ? 'open' : kind })
    }
  }
  give(shares - newcomerShares - donorShares, 'open', () => true)
  give(newcomerShares, 'newcomer', ({ isNewcomer }) => isNewcomer)
  give(donorShares, 'donor', ({ isDonor }) => isDonor)
  return kept
}
