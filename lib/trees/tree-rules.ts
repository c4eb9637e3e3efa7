import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { type LedgerRefusal, ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import type { Queries } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import type { NewLimb } from '#lib/trees/input.ts'
import type { TreeRefusal } from '#lib/trees/refusals.ts'

/** Whether the actor may change a tree: its keeper may, and those who may edit any. */
export const mayEditTree = (actor: Actor, tree: { readonly keeperId: string }): boolean =>
  tree.keeperId === actor.memberId || can(actor, 'edit-any-tree')

/** The tree, if it is there and the actor may change it. */
export async function treeToChange(tx: Queries, actor: Actor, treeId: string) {
  const tree = await tx.tree.findFirst({
    where: { groupId: actor.groupId, id: treeId },
    include: { keeper: { select: { displayName: true } } },
  })
  if (!tree) return { ok: false as const, refusal: { kind: 'not-found' } satisfies TreeRefusal }
  if (mayEditTree(actor, tree)) return { ok: true as const, value: tree }
  const refusal: TreeRefusal = { kind: 'not-your-tree', keeper: tree.keeper.displayName }
  return { ok: false as const, refusal }
}

/** Why a person cannot be a tree's keeper; null when they can. */
export async function keeperObjection(
  tx: Queries,
  groupId: string,
  keeperId: string,
): Promise<TreeRefusal | null> {
  const keeper = await tx.member.findFirst({
    where: { groupId, id: keeperId, leftOn: null },
    select: { id: true },
  })
  return keeper ? null : { kind: 'unknown-keeper' }
}

/** The first of these days that is still to come, as a refusal; null when none is. */
export function dayObjection(
  days: readonly (readonly [what: string, day: CivilDate | undefined])[],
  today: CivilDate,
): TreeRefusal | null {
  const ahead = days.find(([, day]) => day !== undefined && day > today)
  return ahead ? { kind: 'day-ahead', what: ahead[0], today } : null
}

type LimbFields = Omit<NewLimb, 'fromAttemptId'>

/** The columns of a limb as they are written. A name that nobody knows has no grade. */
export const limbRow = (limb: LimbFields) => ({
  mark: limb.mark,
  varietyId: limb.varietyId ?? null,
  heightCm: limb.heightCm ?? null,
  side: limb.side ?? null,
  origin: limb.origin,
  identity: limb.varietyId ? limb.identity : 'unknown',
  seenInLeafOn: limb.seenInLeafOn ? utcMidnight(limb.seenInLeafOn) : null,
  healthNote: limb.healthNote ?? null,
})

/** What speaks against a limb's variety or its lineage; null when nothing does. */
export async function limbObjection(
  tx: Queries,
  groupId: string,
  limb: Pick<NewLimb, 'varietyId' | 'origin' | 'fromAttemptId'>,
): Promise<TreeRefusal | null> {
  if (limb.varietyId) {
    const variety = await tx.variety.findFirst({
      where: { groupId, id: limb.varietyId },
      select: { id: true },
    })
    if (!variety) return { kind: 'unknown-variety' }
  }
  if (!limb.fromAttemptId) return null
  const attempt = await tx.attempt.findFirst({
    where: { groupId, id: limb.fromAttemptId, withdrawnAt: null },
    select: { varietyId: true, variety: { select: { name: true } } },
  })
  if (!attempt) return { kind: 'unknown-attempt' }
  if (attempt.varietyId !== limb.varietyId) return { kind: 'other-variety', variety: attempt.variety.name }
  return limb.origin === 'unknown' ? { kind: 'origin-is-recorded' } : null
}

/** Makes a reader of database errors for a command that writes a limb. */
export const limbRefusalOf =
  (mark: string) =>
  (error: unknown): TreeRefusal | LedgerRefusal | null => {
    const refused = databaseErrorOf(error)
    if (refused?.sqlstate === '23505' && refused.constraint === 'limb_group_id_tree_id_mark_key') {
      return { kind: 'mark-taken', mark }
    }
    return ledgerRefusalOf(error)
  }
