import type { Actor } from '#lib/access/actor.ts'
import { type CivilDate, civilDate, civilDateIn, civilDateOf } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { Prisma } from '#lib/platform/generated/client.ts'
import { bareCode, fromTheGround, openHold } from '#lib/trees/queries.ts'
import { mayEditTree } from '#lib/trees/tree-rules.ts'
import type { LimbLineage, LimbView, Offspring, TreeView } from '#lib/trees/view.ts'

const dayOrNull = (column: Date | null) => (column ? civilDateOf(column) : null)

const limbParts = {
  variety: { include: { taxon: true } },
  holds: openHold,
  fromAttempt: {
    include: {
      grower: true,
      lot: { include: { limb: { include: { tree: { include: { keeper: true } } } } } },
      fromLimb: { include: { tree: { include: { keeper: true } } } },
    },
  },
} as const satisfies Prisma.LimbInclude

type LimbWithParts = Prisma.LimbGetPayload<{ include: typeof limbParts }>

function lineageOf(limb: LimbWithParts): LimbLineage | null {
  const attempt = limb.fromAttempt
  if (!attempt) return null
  const donor = attempt.lot?.limb ?? attempt.fromLimb
  return {
    attemptId: attempt.id,
    method: attempt.method,
    madeOn: civilDateOf(attempt.madeOn),
    growerName: attempt.grower.displayName,
    lotCode: attempt.lot?.code ?? null,
    donor: donor && {
      treeCode: donor.tree.code,
      mark: donor.mark,
      keeperName: donor.tree.keeper.displayName,
    },
  }
}

function limbView(
  limb: LimbWithParts,
  timeZone: string,
  lotDays: readonly CivilDate[],
  seasonFrom: CivilDate,
): LimbView {
  const hold = limb.holds[0]
  return {
    limbId: limb.id,
    mark: limb.mark,
    variety: limb.variety && {
      id: limb.variety.id,
      name: limb.variety.name,
      commonName: limb.variety.taxon.commonName,
    },
    heightCm: limb.heightCm,
    side: limb.side,
    origin: limb.origin,
    identity: limb.identity,
    seenInLeafOn: dayOrNull(limb.seenInLeafOn),
    healthNote: limb.healthNote,
    goneOn: dayOrNull(limb.goneOn),
    hold: hold ? { reason: hold.reason, placedOn: civilDateIn(timeZone, hold.placedAt) } : null,
    from: lineageOf(limb),
    isDonor: lotDays.some((day) => day >= seasonFrom),
    lots: lotDays.length,
  }
}

/** The first day of the season that a day falls in; seasons begin in September. */
function seasonBegin(day: CivilDate): CivilDate {
  const year = Number(day.slice(0, 4)) - (day.slice(5) < '09-01' ? 1 : 0)
  return civilDate(`${year}-09-01`)
}

/** One tree with its limbs, the wood it gave and what grew from it; null when the group has none with that code. */
export async function getTree(db: Database, actor: Actor, code: string): Promise<TreeView | null> {
  const { groupId } = actor
  const tree = await db.prisma.tree.findFirst({
    where: { groupId, code: bareCode(code) },
    include: {
      keeper: { include: { group: { select: { timeZone: true } } } },
      limbs: { include: limbParts, orderBy: fromTheGround },
    },
  })
  if (!tree) return null
  const { timeZone } = tree.keeper.group
  const marks = new Map(tree.limbs.map((limb) => [limb.id, limb.mark]))
  const lots = await db.prisma.lot.findMany({
    where: { groupId, limbId: { in: [...marks.keys()] } },
    include: { holdings: { where: { account: 'cut' } } },
    orderBy: [{ cutOn: 'desc' }, { code: 'asc' }],
  })
  const seasonFrom = seasonBegin(civilDateIn(timeZone, db.now()))
  const daysOf = (limbId: string) =>
    lots.filter((lot) => lot.limbId === limbId).map((lot) => civilDateOf(lot.cutOn))
  return {
    treeId: tree.id,
    code: tree.code,
    keeper: { id: tree.keeperId, name: tree.keeper.displayName },
    rootstock: tree.rootstock,
    place: tree.place,
    plantedOn: dayOrNull(tree.plantedOn),
    note: tree.note,
    goneOn: dayOrNull(tree.goneOn),
    limbs: tree.limbs.map((limb) => limbView(limb, timeZone, daysOf(limb.id), seasonFrom)),
    lots: lots.map((lot) => ({
      code: lot.code,
      mark: marks.get(lot.limbId) ?? '',
      cutOn: civilDateOf(lot.cutOn),
      kind: lot.kind,
      // The source account stands at minus what was cut.
      sticks: 0 - (lot.holdings[0]?.sticks ?? 0),
    })),
    offspring: await offspringOf(db, groupId, marks),
    mayEdit: mayEditTree(actor, tree),
  }
}

async function offspringOf(
  db: Database,
  groupId: string,
  marks: ReadonlyMap<string, string>,
): Promise<Offspring[]> {
  const limbIds = [...marks.keys()]
  const grown = await db.prisma.limb.findMany({
    where: {
      groupId,
      fromAttempt: { OR: [{ lot: { limbId: { in: limbIds } } }, { fromLimbId: { in: limbIds } }] },
    },
    include: {
      variety: { select: { name: true } },
      tree: { include: { keeper: { select: { displayName: true } } } },
      fromAttempt: { select: { fromLimbId: true, lot: { select: { limbId: true } } } },
    },
    orderBy: { createdAt: 'asc' },
  })
  return grown.map((limb) => ({
    treeCode: limb.tree.code,
    mark: limb.mark,
    varietyName: limb.variety?.name ?? null,
    keeperName: limb.tree.keeper.displayName,
    fromMark: marks.get(limb.fromAttempt?.lot?.limbId ?? limb.fromAttempt?.fromLimbId ?? '') ?? '',
    goneOn: dayOrNull(limb.goneOn ?? limb.tree.goneOn),
  }))
}
