import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { formatCode } from '#lib/grafting/codes.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { env } from '#lib/platform/env.ts'
import { type AskedLimb, askedLimb } from '#lib/pledges/giving-limb.ts'
import type { AskForWoodInput } from '#lib/pledges/input.ts'
import { writeRequestLetter } from '#lib/pledges/letters.ts'
import { pledgeClash } from '#lib/pledges/pledge-clash.ts'
import type { PledgesRefusal } from '#lib/pledges/refusals.ts'

/**
 * Asks the keeper of a limb for wood for a swap. The keeper is written to when there is an address; a keeper
 * without one is asked by whoever reads the list. What was asked for is not stock.
 *
 * @param baseUrl where this installation answers, without a slash at the end
 */
export async function askForWood(
  db: Database,
  actor: Actor,
  input: AskForWoodInput,
  baseUrl: string = env().nextAuthUrl,
): Promise<
  Result<{ readonly pledgeId: string; readonly swapId: string; readonly isMailed: boolean }, PledgesRefusal>
> {
  if (!can(actor, 'run-swaps')) return refuse(notAllowed('run-swaps'))
  const { groupId } = actor
  type Asked = { readonly pledgeId: string; readonly swapId: string; readonly isMailed: boolean }
  return transact<Asked, PledgesRefusal>(
    db,
    (tx) =>
      once<Asked, PledgesRefusal>(tx, groupId, input.key, 'ask-for-wood', input, async () => {
        const limb = await askedLimb(tx, groupId, input)
        if (!limb.ok) return limb
        const pledgeId = db.newId()
        await tx.pledge.create({
          data: {
            groupId,
            id: pledgeId,
            swapId: input.swapId,
            limbId: input.limbId,
            keeperId: limb.value.keeper.id,
            status: 'asked',
            askedById: actor.memberId,
            askedAt: db.now(),
            sticksAsked: input.sticks,
            bringBy: utcMidnight(input.bringBy),
            note: input.note ?? null,
          },
        })
        const isMailed = await mail(tx, db, actor, input, limb.value, baseUrl)
        await writeAudit(tx, db, actor, {
          action: 'ask-for-wood',
          subject: `pledge:${pledgeId}`,
          onBehalfOf: limb.value.keeper.id,
          detail: { swapId: input.swapId, limbId: input.limbId, sticks: input.sticks },
        })
        return ok({ pledgeId, swapId: input.swapId, isMailed })
      }),
    pledgeClash,
  )
}

async function mail(
  tx: Queries,
  db: Database,
  actor: Actor,
  input: AskForWoodInput,
  { keeper, treeCode, mark, varietyName, swap }: AskedLimb,
  baseUrl: string,
): Promise<boolean> {
  if (keeper.email === null) return false
  const asker = await tx.member.findUniqueOrThrow({
    where: { groupId_id: { groupId: actor.groupId, id: actor.memberId } },
    include: { group: true },
  })
  const letter = {
    to: keeper.email,
    keeper: keeper.displayName,
    asker: asker.displayName,
    groupName: asker.group.name,
    swapName: swap.name,
    variety: varietyName ?? 'wood',
    limb: `limb ${mark} of tree ${formatCode(treeCode)}`,
    sticks: input.sticks,
    bringBy: input.bringBy,
    note: input.note ?? null,
    link: `${baseUrl}/g/${asker.group.slug}/swaps/${input.swapId}/promises`,
  }
  await writeRequestLetter(tx, db, letter, false)
  return true
}
