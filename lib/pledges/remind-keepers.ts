import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { formatCode } from '#lib/grafting/codes.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { env } from '#lib/platform/env.ts'
import type { RemindKeepersInput } from '#lib/pledges/input.ts'
import { writeRequestLetter } from '#lib/pledges/letters.ts'
import type { PledgesRefusal } from '#lib/pledges/refusals.ts'

/**
 * Writes once more to every keeper who was asked for wood for a swap and has not answered. Nobody is reminded of
 * the same request twice.
 *
 * @param baseUrl where this installation answers, without a slash at the end
 */
export async function remindKeepers(
  db: Database,
  actor: Actor,
  input: RemindKeepersInput,
  baseUrl: string = env().nextAuthUrl,
): Promise<Result<{ readonly reminded: number; readonly swapId: string }, PledgesRefusal>> {
  if (!can(actor, 'run-swaps')) return refuse(notAllowed('run-swaps'))
  const { groupId } = actor
  const { swapId } = input
  type Reminded = { readonly reminded: number; readonly swapId: string }
  return transact<Reminded, PledgesRefusal>(db, (tx) =>
    once<Reminded, PledgesRefusal>(tx, groupId, input.key, 'remind-keepers', input, async () => {
      const swap = await tx.swap.findUnique({
        where: { groupId_id: { groupId, id: swapId } },
      })
      if (!swap) return refuse({ kind: 'not-found' })
      const group = await tx.orchardGroup.findUniqueOrThrow({ where: { id: groupId } })
      const waiting = await tx.pledge.findMany({
        where: { groupId, swapId, status: 'asked', remindedAt: null, keeper: { email: { not: null } } },
        include: { keeper: true, askedBy: true, limb: { include: { tree: true, variety: true } } },
      })
      for (const { keeper, askedBy, limb, ...pledge } of waiting) {
        if (keeper.email === null) continue
        const letter = {
          to: keeper.email,
          keeper: keeper.displayName,
          asker: askedBy?.displayName ?? group.name,
          groupName: group.name,
          swapName: swap.name,
          variety: limb.variety?.name ?? 'wood',
          limb: `limb ${limb.mark} of tree ${formatCode(limb.tree.code)}`,
          sticks: pledge.sticksAsked ?? 0,
          bringBy: pledge.bringBy && civilDateOf(pledge.bringBy),
          note: pledge.note,
          link: `${baseUrl}/g/${group.slug}/swaps/${swapId}/promises`,
        }
        await writeRequestLetter(tx, db, letter, true)
      }
      await tx.pledge.updateMany({
        where: { groupId, id: { in: waiting.map(({ id }) => id) } },
        data: { remindedAt: db.now() },
      })
      await writeAudit(tx, db, actor, {
        action: 'remind-keepers',
        subject: `swap:${swapId}`,
        detail: { reminded: waiting.length },
      })
      return ok({ reminded: waiting.length, swapId })
    }),
  )
}
