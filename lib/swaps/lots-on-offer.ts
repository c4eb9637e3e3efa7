import type { Queries } from '#lib/platform/database/database.ts'
import type { LotFacts } from '#lib/swaps/fit-to-offer.ts'

/** A lot as somebody wants to offer it. */
export interface LotOnOffer extends LotFacts {
  readonly lotId: string
  readonly code: string
  /** Its place in the same swap, when it has one. */
  readonly earlier: {
    readonly offeringId: string
    readonly isWithdrawn: boolean
    readonly sharesClaimed: number
    readonly isOverridden: boolean
  } | null
}

/** What decides about each of these lots, by lot; lots of another group are left out. */
export async function lotsOnOffer(
  tx: Queries,
  groupId: string,
  swapId: string,
  lotIds: readonly string[],
): Promise<ReadonlyMap<string, LotOnOffer>> {
  const open = { releasedAt: null }
  const lots = await tx.lot.findMany({
    where: { groupId, id: { in: [...lotIds] } },
    select: {
      id: true,
      code: true,
      holdings: { where: { account: 'store' }, select: { sticks: true } },
      holds: { where: open, select: { reason: true, placedAt: true } },
      offerings: { where: { swapId } },
      limb: {
        select: {
          holds: { where: open, select: { reason: true, placedAt: true } },
          variety: {
            select: {
              name: true,
              protection: true,
              introducedYear: true,
              taxon: { select: { genus: true, family: true } },
            },
          },
        },
      },
    },
  })
  return new Map(
    lots.map((lot) => {
      const earlier = lot.offerings[0]
      const { variety } = lot.limb
      return [
        lot.id,
        {
          lotId: lot.id,
          code: lot.code,
          sticksInStore: lot.holdings[0]?.sticks ?? 0,
          openHold: lot.holds[0] ?? lot.limb.holds[0] ?? null,
          variety: variety && {
            name: variety.name,
            protection: variety.protection,
            introducedYear: variety.introducedYear,
            genus: variety.taxon.genus,
            family: variety.taxon.family,
          },
          earlier: earlier
            ? {
                offeringId: earlier.id,
                isWithdrawn: earlier.withdrawnAt !== null,
                sharesClaimed: earlier.sharesClaimed,
                isOverridden: earlier.overrideReason !== null,
              }
            : null,
        },
      ]
    }),
  )
}
