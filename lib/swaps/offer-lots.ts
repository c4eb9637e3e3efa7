import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { required } from '#lib/kernel/assert.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { refusalToOffer } from '#lib/swaps/fit-to-offer.ts'
import type { Offer, OfferLotsInput } from '#lib/swaps/input.ts'
import { type LotOnOffer, lotsOnOffer } from '#lib/swaps/lots-on-offer.ts'
import type { LotRefusal, SwapsRefusal } from '#lib/swaps/refusals.ts'

export interface OfferedLots {
  readonly offeringIds: readonly string[]
}

/**
 * Puts lots into a swap, in shares of so many sticks. All or none: when some are refused, each is named with its
 * reason. A lot that was withdrawn from the same swap comes back with the new numbers.
 */
export async function offerLots(
  db: Database,
  actor: Actor,
  input: OfferLotsInput,
): Promise<Result<OfferedLots, SwapsRefusal>> {
  if (!can(actor, 'offer-any-lot')) return refuse(notAllowed('offer-any-lot'))
  if (input.overrideReason !== undefined && !can(actor, 'override-protection'))
    return refuse({ kind: 'override-not-yours' })
  return transact<OfferedLots, SwapsRefusal>(
    db,
    (tx) =>
      once<OfferedLots, SwapsRefusal>(tx, actor.groupId, input.key, 'offer-lots', input, async () => {
        const swap = await tx.swap.findUnique({
          where: { groupId_id: { groupId: actor.groupId, id: input.swapId } },
        })
        if (!swap) return refuse({ kind: 'not-found' })
        if (swap.status === 'finished') return refuse({ kind: 'swap-finished' })
        const group = await tx.orchardGroup.findUniqueOrThrow({ where: { id: actor.groupId } })
        const lots = await lotsOnOffer(
          tx,
          actor.groupId,
          swap.id,
          input.offers.map((offer) => offer.lotId),
        )
        if (input.offers.some((offer) => !lots.has(offer.lotId))) return refuse({ kind: 'not-found' })
        const unfit = input.offers.flatMap((offer) => {
          const lot = required(lots.get(offer.lotId), 'a lot that was just found')
          return lotRefusal(lot, offer, {
            heldInYear: swap.heldOn.getUTCFullYear(),
            allowsVitis: group.allowsVitis,
            isOverridden: lot.earlier ? lot.earlier.isOverridden : input.overrideReason !== undefined,
          })
        })
        if (unfit.length > 0) return refuse({ kind: 'lots-unfit', lots: unfit })
        const offeringIds: string[] = []
        // One order of locks, whoever offers what.
        for (const offer of [...input.offers].sort((a, b) => (a.lotId < b.lotId ? -1 : 1))) {
          const lot = required(lots.get(offer.lotId), 'a lot that was just found')
          offeringIds.push(await putOnOffer(tx, db, actor, input, offer, lot))
        }
        return ok({ offeringIds })
      }),
    ledgerRefusalOf,
  )
}

function lotRefusal(
  lot: LotOnOffer,
  offer: Offer,
  swap: Parameters<typeof refusalToOffer>[1],
): readonly LotRefusal[] {
  const named = { code: lot.code, varietyName: lot.variety?.name ?? null }
  if (lot.earlier && !lot.earlier.isWithdrawn) return [{ ...named, refusal: { kind: 'already-offered' } }]
  const refusal = refusalToOffer(lot, swap, offer.shares * offer.sticksPerShare)
  return refusal ? [{ ...named, refusal }] : []
}

async function putOnOffer(
  tx: Queries,
  db: Database,
  actor: Actor,
  input: OfferLotsInput,
  offer: Offer,
  lot: LotOnOffer,
): Promise<string> {
  const numbers = { sticksPerShare: offer.sticksPerShare, note: offer.note ?? null }
  const offeringId = lot.earlier?.offeringId ?? db.newId()
  if (lot.earlier) {
    await tx.offering.update({
      where: { groupId_id: { groupId: actor.groupId, id: offeringId } },
      // What was claimed before it was withdrawn has been handed over and stays counted.
      data: { ...numbers, shares: lot.earlier.sharesClaimed + offer.shares, withdrawnAt: null },
    })
  } else {
    await tx.offering.create({
      data: {
        ...numbers,
        groupId: actor.groupId,
        id: offeringId,
        swapId: input.swapId,
        lotId: offer.lotId,
        shares: offer.shares,
        overrideReason: input.overrideReason ?? null,
        offeredById: actor.memberId,
        offeredAt: db.now(),
      },
    })
  }
  await writeAudit(tx, db, actor, {
    action: 'offer-lot',
    subject: `lot:${lot.code}`,
    detail: {
      swapId: input.swapId,
      sticksPerShare: offer.sticksPerShare,
      shares: offer.shares,
      ...(input.overrideReason === undefined ? {} : { overrideReason: input.overrideReason }),
    },
  })
  return offeringId
}
