import type { Actor } from '#lib/access/actor.ts'
import { mayActFor, notAllowed } from '#lib/access/policy.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { groupDay } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { AddTreeInput } from '#lib/trees/input.ts'
import { issueCode } from '#lib/trees/issue-code.ts'
import type { TreeRefusal } from '#lib/trees/refusals.ts'
import { dayObjection, keeperObjection, limbObjection, limbRow } from '#lib/trees/tree-rules.ts'

export interface AddedTree {
  readonly treeId: string
  readonly code: string
  /** In the order of the input. */
  readonly limbIds: readonly string[]
}

/** Adds a tree with its limbs and gives it a code that is never given again. One's own, or for another person. */
export async function addTree(
  db: Database,
  actor: Actor,
  input: AddTreeInput,
): Promise<Result<AddedTree, TreeRefusal>> {
  if (!mayActFor(actor, input.keeperId)) return refuse(notAllowed('act-for-others'))
  const { groupId } = actor
  return transact<AddedTree, TreeRefusal>(
    db,
    (tx) =>
      once(tx, groupId, input.key, 'add-tree', input, async () => {
        const objection = await objectionTo(tx, db, actor, input)
        if (objection) return refuse(objection)
        const code = await issueCode(tx, db, groupId, 'tree')
        const treeId = db.newId()
        await tx.tree.create({
          data: {
            groupId,
            id: treeId,
            code,
            keeperId: input.keeperId,
            rootstock: input.rootstock ?? null,
            place: input.place ?? null,
            plantedOn: input.plantedOn ? utcMidnight(input.plantedOn) : null,
            note: input.note ?? null,
            createdAt: db.now(),
          },
        })
        const limbIds = input.limbs.map(() => db.newId())
        for (const [i, limb] of input.limbs.entries()) {
          await tx.limb.create({
            data: {
              groupId,
              id: limbIds[i] ?? db.newId(),
              treeId,
              ...limbRow(limb),
              fromAttemptId: limb.fromAttemptId ?? null,
              createdAt: db.now(),
            },
          })
        }
        await writeAudit(tx, db, actor, {
          action: 'add-tree',
          subject: `tree:${code}`,
          onBehalfOf: input.keeperId === actor.memberId ? null : input.keeperId,
          detail: { limbs: input.limbs.length },
        })
        return ok({ treeId, code, limbIds })
      }),
    ledgerRefusalOf,
  )
}

async function objectionTo(
  tx: Queries,
  db: Database,
  actor: Actor,
  input: AddTreeInput,
): Promise<TreeRefusal | null> {
  const { groupId } = actor
  const days = [
    ['planted', input.plantedOn] as const,
    ...input.limbs.map((limb) => ['seen in leaf', limb.seenInLeafOn] as const),
  ]
  const first =
    (await keeperObjection(tx, groupId, input.keeperId)) ?? dayObjection(days, await groupDay(tx, db, actor))
  if (first) return first
  for (const limb of input.limbs) {
    const objection = await limbObjection(tx, groupId, limb)
    if (objection) return objection
  }
  return null
}
