import type { Actor } from '#lib/access/actor.ts'
import { hemisphereOf } from '#lib/attempts/hemisphere.ts'
import type { AttemptInput } from '#lib/attempts/input.ts'
import { compatibilityOf } from '#lib/grafting/compatibility.ts'
import { compatibilitySentence } from '#lib/grafting/compatibility-sentence.ts'
import { methodWarnings } from '#lib/grafting/method-warnings.ts'
import { type FactBasis, findMethod } from '#lib/grafting/methods.ts'
import { findRootstock, type GraftPartner } from '#lib/grafting/rootstocks.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { groupClock } from '#lib/people/group-day.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { partnerOf, partnerShape } from '#lib/varieties/graft-partner.ts'
import { type StorageProfileKey, storageProfiles } from '#lib/viability/storage-profiles.ts'

/** Something to think of, and what it leans on. Nothing here forbids anything. */
export interface AttemptWarning {
  readonly words: string
  readonly basis: FactBasis
}

/** What is known of a batch, made or meant. */
interface Plan {
  readonly varietyId: string | null
  readonly method: string
  readonly stock: string | null
  readonly hostTreeId: string | null
  readonly hostLimbId: string | null
  readonly madeOn: CivilDate
  readonly nodes: number | null
  readonly bottomHeatC: number | null
}

/** What the scion is put on: the stock that was named, else what grows on the limb, else the tree's rootstock. */
async function stockOf(tx: Queries, groupId: string, plan: Plan): Promise<GraftPartner | null> {
  if (plan.stock !== null) return findRootstock(plan.stock)
  if (plan.hostLimbId !== null) {
    const limb = await tx.limb.findUnique({
      where: { groupId_id: { groupId, id: plan.hostLimbId } },
      select: { variety: partnerShape },
    })
    if (limb?.variety) return partnerOf(limb.variety)
  }
  if (plan.hostTreeId === null) return null
  const tree = await tx.tree.findUnique({
    where: { groupId_id: { groupId, id: plan.hostTreeId } },
    select: { rootstock: true },
  })
  return tree?.rootstock ? findRootstock(tree.rootstock) : null
}

function compatibilityWarning(scion: GraftPartner, stock: GraftPartner): readonly AttemptWarning[] {
  const known = compatibilityOf(scion, stock)
  if (!known.warns) return []
  return [{ words: compatibilitySentence(known), basis: known.basis ?? 'common practice, no source' }]
}

const cropOf = (key: string): StorageProfileKey | null =>
  Object.keys(storageProfiles).find((known): known is StorageProfileKey => known === key) ?? null

async function warningsOfPlan(
  tx: Queries,
  groupId: string,
  timeZone: string,
  plan: Plan,
): Promise<readonly AttemptWarning[]> {
  const method = findMethod(plan.method)
  if (!method) return []
  const variety =
    plan.varietyId === null
      ? null
      : await tx.variety.findUnique({
          where: { groupId_id: { groupId, id: plan.varietyId } },
          ...partnerShape,
        })
  const stock = method.kind === 'graft' ? await stockOf(tx, groupId, plan) : null
  const ofMethod = methodWarnings({
    method: method.key,
    crop: variety && cropOf(variety.taxon.storageProfile),
    madeOn: plan.madeOn,
    hemisphere: hemisphereOf(timeZone),
    wood: 'unknown',
    barkSlips: null,
    celsius: plan.bottomHeatC,
    nodes: plan.nodes,
  })
  return [
    ...(variety && stock ? compatibilityWarning(partnerOf(variety), stock) : []),
    ...ofMethod.map(({ words, basis }) => ({ words, basis })),
  ]
}

/** The variety of the wood that is named, in the actor's group; null when there is none. */
async function varietyOf(tx: Queries, groupId: string, input: AttemptInput): Promise<string | null> {
  if (input.lotId !== undefined) {
    const lot = await tx.lot.findUnique({
      where: { groupId_id: { groupId, id: input.lotId } },
      select: { limb: { select: { varietyId: true } } },
    })
    return lot?.limb.varietyId ?? null
  }
  if (input.fromLimbId === undefined) return input.varietyId ?? null
  const limb = await tx.limb.findUnique({
    where: { groupId_id: { groupId, id: input.fromLimbId } },
    select: { varietyId: true },
  })
  return limb?.varietyId ?? null
}

/** What to think of before something is made. Changes nothing. */
export async function warningsBefore(
  db: Database,
  actor: Actor,
  input: AttemptInput,
): Promise<readonly AttemptWarning[]> {
  const { groupId } = actor
  const { timeZone } = await groupClock(db.prisma, db, groupId)
  const { host } = input
  return warningsOfPlan(db.prisma, groupId, timeZone, {
    varietyId: await varietyOf(db.prisma, groupId, input),
    method: input.method,
    stock: input.stock ?? null,
    hostTreeId: host?.kind === 'tree' ? host.id : (input.hostTreeId ?? null),
    hostLimbId: host?.kind === 'limb' ? host.id : (input.hostLimbId ?? null),
    madeOn: input.madeOn,
    nodes: input.nodes ?? null,
    bottomHeatC: input.bottomHeatC ?? null,
  })
}
