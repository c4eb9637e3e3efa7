import type { ReceivedWood } from '#lib/attempts/view.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import type { Prisma } from '#lib/platform/generated/client.ts'

const openHolds = { where: { releasedAt: null }, select: { id: true } } as const

/** What is read of a lot to show it as wood that somebody can use. */
export const lotInHand = {
  limb: { include: { variety: { include: { taxon: true } }, holds: openHolds } },
  holds: openHolds,
} as const satisfies Prisma.LotInclude

/** So many sticks of a lot, as wood that somebody can use. Held wood says so. */
export const woodInHand = (
  lot: Prisma.LotGetPayload<{ include: typeof lotInHand }>,
  sticks: number,
): ReceivedWood => ({
  lotId: lot.id,
  code: lot.code,
  varietyId: lot.limb.varietyId,
  varietyName: lot.limb.variety?.name ?? null,
  commonName: lot.limb.variety?.taxon.commonName ?? null,
  cutOn: civilDateOf(lot.cutOn),
  sticks,
  isHeld: lot.holds.length > 0 || lot.limb.holds.length > 0,
})
