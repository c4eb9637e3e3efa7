import { roomOf } from '#lib/allotment/choices.ts'
import { type DrawEntrant, type DrawList, type DrawOffering, grouped } from '#lib/allotment/draw-list.ts'
import type { Allotment, Draw } from '#lib/allotment/run-draw.ts'

/** Somebody who was passed over against the promise of the draw. */
export interface PassedOver {
  readonly lotCode: string
  readonly memberCode: string
  /** Somebody with a higher number got a share; one was left that nobody got; or one kept for them went elsewhere. */
  readonly why: 'higher-number' | 'share-left' | 'kept-share'
}

/** Lots that a person's limits, filled with what they ranked higher and got, do not excuse. */
function unexcused(
  entrant: DrawEntrant,
  got: ReadonlySet<string>,
  varietyOf: ReadonlyMap<string, string>,
  rules: DrawList['rules'],
): readonly string[] {
  const room = roomOf(entrant, rules)
  return entrant.wishes.filter((lotCode) => {
    const variety = varietyOf.get(lotCode)
    if (variety === undefined) return false
    if (!got.has(lotCode)) return room.hasRoomFor(variety)
    room.take(variety)
    return false
  })
}

/** Whether a share of this kind was open to the person. */
const isFor = ({ kind }: Allotment, entrant: DrawEntrant) =>
  kind === 'open' || (kind === 'newcomer' ? entrant.isNewcomer === true : entrant.isDonor === true)

/** Whether shares kept for people like this one went to others. */
function missedKeptShare(
  { isNewcomer, isDonor }: DrawEntrant,
  { newcomerShares = 0, donorShares = 0 }: DrawOffering,
  holders: readonly Allotment[],
): boolean {
  const given = (kind: Allotment['kind']) => holders.filter((holder) => holder.kind === kind).length
  return (
    (isNewcomer === true && given('newcomer') < newcomerShares) ||
    (isDonor === true && given('donor') < donorShares)
  )
}

function whyPassedOver(
  entrant: DrawEntrant,
  offering: DrawOffering,
  holders: readonly Allotment[],
  numberOf: (memberCode: string) => string | undefined,
): PassedOver['why'] | null {
  const number = numberOf(entrant.memberCode)
  if (number === undefined) return null
  if (holders.length < offering.shares) return 'share-left'
  if (missedKeptShare(entrant, offering, holders)) return 'kept-share'
  const isWorse = (holder: Allotment) => (numberOf(holder.memberCode) ?? 'no ticket') > number
  return holders.some((holder) => isWorse(holder) && isFor(holder, entrant)) ? 'higher-number' : null
}

/**
 * Everybody who was passed over against the promise: who wanted a lot, did not get it, had room under their limits
 * after the shares they ranked above it and got, and either had a lower number than somebody who got a share that
 * was open to both, or saw a share left over, or a share kept for people like them go to somebody else. Empty for
 * every honest draw. Written without the drawing itself, and by the numbers of the tickets alone, so that it can
 * check a result.
 */
export function passedOver(list: DrawList, { tickets, allotments }: Draw): readonly PassedOver[] {
  const offeringOf = new Map(list.offerings.map((offering) => [offering.lotCode, offering]))
  const varietyOf = new Map(list.offerings.map(({ lotCode, variety }) => [lotCode, variety]))
  const holdersOf = grouped(allotments, ({ lotCode }) => lotCode)
  const gotBy = grouped(allotments, ({ memberCode }) => memberCode)
  const numbers = new Map(
    tickets
      .filter(({ counts }) => counts)
      .map(({ lotCode, memberCode, number }) => [`${lotCode} ${memberCode}`, number]),
  )
  return list.entrants.flatMap((entrant) => {
    const { memberCode } = entrant
    const got = new Set(gotBy.get(memberCode)?.map(({ lotCode }) => lotCode))
    return unexcused(entrant, got, varietyOf, list.rules).flatMap((lotCode) => {
      const offering = offeringOf.get(lotCode)
      const numberOf = (member: string) => numbers.get(`${lotCode} ${member}`)
      const why = offering && whyPassedOver(entrant, offering, holdersOf.get(lotCode) ?? [], numberOf)
      return why ? [{ lotCode, memberCode, why }] : []
    })
  })
}
