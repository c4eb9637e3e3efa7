import type { Actor } from '#lib/access/actor.ts'
import { can, mayActFor } from '#lib/access/policy.ts'
import type { ReceivedWood } from '#lib/attempts/view.ts'
import { lotInHand, woodInHand } from '#lib/attempts/wood-in-hand.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { memberAccount } from '#lib/ledger/accounts.ts'
import type { Database } from '#lib/platform/database/database.ts'

/**
 * The sticks of one lot that a grower's entry could use, by the rule of `find-wood.ts`: those received, or else
 * those in the store where the wood is the grower's own or the actor looks after the table. Null when there are
 * none, or the lot is not in the group.
 */
export async function usableWood(
  db: Database,
  actor: Actor,
  growerId: string,
  lotId: string,
): Promise<ReceivedWood | null> {
  if (!isUuid(lotId) || !mayActFor(actor, growerId)) return null
  const lot = await db.prisma.lot.findUnique({
    where: { groupId_id: { groupId: actor.groupId, id: lotId } },
    include: {
      limb: { include: { ...lotInHand.limb.include, tree: true } },
      holds: lotInHand.holds,
      holdings: true,
      session: { select: { cutterId: true } },
    },
  })
  if (!lot) return null
  const on = (account: string) => lot.holdings.find((row) => row.account === account)?.sticks ?? 0
  const isOwn = lot.limb.tree.keeperId === growerId || lot.session.cutterId === growerId
  const received = on(memberAccount(growerId))
  const sticks = received > 0 ? received : isOwn || can(actor, 'offer-any-lot') ? on('store') : 0
  if (sticks === 0) return null
  return woodInHand(lot, sticks)
}
