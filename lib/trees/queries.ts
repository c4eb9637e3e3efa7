import type { Actor } from '#lib/access/actor.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { memberChoices } from '#lib/people/queries.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { Prisma } from '#lib/platform/generated/client.ts'
import type { LimbChoice, TreeChoice, TreeRow } from '#lib/trees/view.ts'

const dayOrNull = (column: Date | null) => (column ? civilDateOf(column) : null)

/** A code as it is stored, however it was typed into the address. */
export const bareCode = (text: string) => text.replaceAll('-', '').trim().toUpperCase()

/** From the ground up; unknown heights last, by their letters. */
export const fromTheGround = [
  { heightCm: { sort: 'asc', nulls: 'last' } },
  { mark: 'asc' },
] as const satisfies Prisma.LimbOrderByWithRelationInput[]

/** What tells whether a limb is on hold. */
export const openHold = { where: { releasedAt: null }, take: 1 } as const

export interface TreeFilter {
  /** A part of a variety's name or other name, of the code, the place, the rootstock or the keeper's name. */
  readonly search?: string
  readonly keeper?: string
  /** Trees that are no longer there instead of those that are. */
  readonly gone?: boolean
  /** From 1. */
  readonly page?: number
}

export interface TreePage {
  readonly rows: readonly TreeRow[]
  readonly total: number
  readonly page: number
  readonly pages: number
}

const pageSize = 60

async function searched(db: Database, actor: Actor, search: string): Promise<Prisma.TreeWhereInput> {
  const key = cultivarSearchKey(search)
  if (key === '') return {}
  const keepers = (await memberChoices(db, actor)).filter(({ name }) => cultivarSearchKey(name).includes(key))
  const words = { contains: search.trim(), mode: 'insensitive' } as const
  return {
    OR: [
      { code: { contains: bareCode(search) } },
      { place: words },
      { rootstock: words },
      { keeperId: { in: keepers.map(({ id }) => id) } },
      {
        limbs: {
          some: {
            goneOn: null,
            variety: {
              OR: [{ nameKey: { contains: key } }, { synonyms: { some: { nameKey: { contains: key } } } }],
            },
          },
        },
      },
    ],
  }
}

/** The group's trees by keeper, a page at a time. */
export async function listTrees(db: Database, actor: Actor, filter: TreeFilter = {}): Promise<TreePage> {
  const where: Prisma.TreeWhereInput = {
    groupId: actor.groupId,
    goneOn: filter.gone ? { not: null } : null,
    ...(filter.keeper && isUuid(filter.keeper) ? { keeperId: filter.keeper } : {}),
    ...(await searched(db, actor, filter.search ?? '')),
  }
  const total = await db.prisma.tree.count({ where })
  const pages = Math.max(1, Math.ceil(total / pageSize))
  const page = Math.min(pages, Math.max(1, Math.trunc(filter.page ?? 1) || 1))
  const trees = await db.prisma.tree.findMany({
    where,
    include: {
      keeper: { select: { displayName: true } },
      limbs: {
        where: filter.gone ? {} : { goneOn: null },
        include: { variety: { include: { taxon: true } }, holds: openHold },
        orderBy: fromTheGround,
      },
    },
    orderBy: [{ keeper: { displayName: 'asc' } }, { createdAt: 'asc' }, { id: 'asc' }],
    skip: (page - 1) * pageSize,
    take: pageSize,
  })
  const rows = trees.map((tree) => ({
    treeId: tree.id,
    code: tree.code,
    keeperId: tree.keeperId,
    keeperName: tree.keeper.displayName,
    place: tree.place,
    rootstock: tree.rootstock,
    goneOn: dayOrNull(tree.goneOn),
    onHold: tree.limbs.some((limb) => limb.holds.length > 0),
    limbs: tree.limbs.map((limb) => ({
      mark: limb.mark,
      varietyName: limb.variety?.name ?? null,
      commonName: limb.variety?.taxon.commonName ?? null,
    })),
  }))
  return { rows, total, page, pages }
}

/** Limbs that wood can be cut from: still there, held ones marked. By keeper and tree, from the ground up. */
export async function limbChoices(
  db: Database,
  actor: Actor,
  options: { readonly keeperId?: string } = {},
): Promise<LimbChoice[]> {
  const limbs = await db.prisma.limb.findMany({
    where: {
      groupId: actor.groupId,
      goneOn: null,
      tree: { goneOn: null, ...(options.keeperId ? { keeperId: options.keeperId } : {}) },
    },
    include: {
      variety: { include: { taxon: true } },
      holds: openHold,
      tree: { include: { keeper: { select: { displayName: true } } } },
    },
    orderBy: [
      { tree: { keeper: { displayName: 'asc' } } },
      { tree: { createdAt: 'asc' } },
      { tree: { id: 'asc' } },
      ...fromTheGround,
    ],
  })
  return limbs.map((limb) => ({
    limbId: limb.id,
    treeCode: limb.tree.code,
    mark: limb.mark,
    varietyName: limb.variety?.name ?? null,
    commonName: limb.variety?.taxon.commonName ?? null,
    keeperName: limb.tree.keeper.displayName,
    onHold: limb.holds.length > 0,
  }))
}

/** Trees that are still there, by keeper. */
export async function treeChoices(db: Database, actor: Actor): Promise<TreeChoice[]> {
  const trees = await db.prisma.tree.findMany({
    where: { groupId: actor.groupId, goneOn: null },
    include: {
      keeper: { select: { displayName: true } },
      limbs: { where: { goneOn: null }, include: { variety: true }, orderBy: fromTheGround },
    },
    orderBy: [{ keeper: { displayName: 'asc' } }, { createdAt: 'asc' }, { id: 'asc' }],
  })
  return trees.map((tree) => ({
    treeId: tree.id,
    code: tree.code,
    keeperName: tree.keeper.displayName,
    place: tree.place,
    varieties: tree.limbs.flatMap((limb) => limb.variety?.name ?? []),
  }))
}
