import { type CivilDate, civilDateOf } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { Queries } from '#lib/platform/database/database.ts'
import type { PledgesRefusal } from '#lib/pledges/refusals.ts'

/** A limb that can be asked for wood, with its keeper and the swap the wood is for. */
export interface AskedLimb {
  readonly keeper: { readonly id: string; readonly displayName: string; readonly email: string | null }
  readonly treeCode: string
  readonly mark: string
  readonly varietyName: string | null
  readonly swap: { readonly name: string; readonly heldOn: CivilDate }
}

/**
 * The limb, when it can give wood to that swap and nobody has asked for it or promised it yet; otherwise why not.
 * A hold on the limb forbids it: a held limb gives nothing.
 */
export async function askedLimb(
  tx: Queries,
  groupId: string,
  input: { readonly swapId: string; readonly limbId: string; readonly bringBy: CivilDate },
): Promise<Result<AskedLimb, PledgesRefusal>> {
  const [swap, limb] = await Promise.all([
    tx.swap.findUnique({ where: { groupId_id: { groupId, id: input.swapId } } }),
    tx.limb.findUnique({
      where: { groupId_id: { groupId, id: input.limbId } },
      include: {
        tree: { include: { keeper: true } },
        variety: true,
        holds: { where: { releasedAt: null }, take: 1 },
        pledges: { where: { swapId: input.swapId, status: { in: ['asked', 'promised'] } } },
      },
    }),
  ])
  if (!swap || !limb) return refuse({ kind: 'not-found' })
  if (swap.status === 'finished') return refuse({ kind: 'swap-finished' })
  const heldOn = civilDateOf(swap.heldOn)
  if (input.bringBy > heldOn) return refuse({ kind: 'bring-by-after-the-swap', heldOn })
  const { keeper } = limb.tree
  if (limb.goneOn || limb.tree.goneOn) return refuse({ kind: 'limb-gone' })
  if (keeper.leftOn) return refuse({ kind: 'keeper-has-left', keeper: keeper.displayName })
  const [hold] = limb.holds
  if (hold) return refuse({ kind: 'held', reason: hold.reason, placedAt: hold.placedAt.toISOString() })
  const [open] = limb.pledges
  if (open) {
    const sticks = open.sticksPromised ?? open.sticksAsked ?? 0
    return refuse({ kind: 'asked-already', sticks, keeper: keeper.displayName })
  }
  return ok({
    keeper: { id: keeper.id, displayName: keeper.displayName, email: keeper.email },
    treeCode: limb.tree.code,
    mark: limb.mark,
    varietyName: limb.variety?.name ?? null,
    swap: { name: swap.name, heldOn },
  })
}
