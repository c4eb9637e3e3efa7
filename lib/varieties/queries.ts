import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { Prisma } from '#lib/platform/generated/client.ts'
import { needsOverride } from '#lib/varieties/protection.ts'
import type { Sharing, TaxonChoice, VarietyChoice, VarietyRow, VarietyView } from '#lib/varieties/view.ts'

const taxonName = (taxon: { readonly genus: string; readonly species: string }) =>
  `${taxon.genus} ${taxon.species}`

const dayOrNull = (column: Date | null) => (column ? civilDateOf(column) : null)

/** Every kind of fruit a variety can belong to, by its common name. */
export async function taxonChoices(db: Database): Promise<TaxonChoice[]> {
  const taxa = await db.prisma.taxon.findMany({ orderBy: [{ commonName: 'asc' }, { key: 'asc' }] })
  return taxa.map(({ key, genus, species, commonName, family }) => ({
    key,
    genus,
    species,
    commonName,
    family,
  }))
}

/** The group's varieties for a form, by kind of fruit and name. */
export async function varietyChoices(db: Database, actor: Actor): Promise<VarietyChoice[]> {
  const varieties = await db.prisma.variety.findMany({
    where: { groupId: actor.groupId },
    select: { id: true, name: true, taxon: true },
    orderBy: [{ taxon: { commonName: 'asc' } }, { name: 'asc' }],
  })
  return varieties.map(({ id, name, taxon }) => ({
    id,
    name,
    taxonName: taxonName(taxon),
    commonName: taxon.commonName,
  }))
}

export interface VarietyFilter {
  readonly search?: string
  /** The key of a kind of fruit. */
  readonly taxon?: string
}

/** What a search finds: a part of the name, of another name, or of the kind of fruit. Accents do not matter. */
function searched(search: string): Prisma.VarietyWhereInput {
  const key = cultivarSearchKey(search)
  if (key === '') return {}
  return {
    OR: [
      { nameKey: { contains: key } },
      { synonyms: { some: { nameKey: { contains: key } } } },
      { taxon: { commonName: { contains: search.trim(), mode: 'insensitive' } } },
    ],
  }
}

/** The group's varieties by kind of fruit and name. */
export async function listVarieties(
  db: Database,
  actor: Actor,
  filter: VarietyFilter = {},
): Promise<VarietyRow[]> {
  const year = db.now().getUTCFullYear()
  const key = cultivarSearchKey(filter.search ?? '')
  const varieties = await db.prisma.variety.findMany({
    where: {
      groupId: actor.groupId,
      ...(filter.taxon ? { taxonKey: filter.taxon } : {}),
      ...searched(filter.search ?? ''),
    },
    include: {
      taxon: true,
      synonyms: { orderBy: { name: 'asc' } },
      _count: { select: { limbs: { where: { goneOn: null, tree: { goneOn: null } } } } },
    },
    orderBy: [{ taxon: { commonName: 'asc' } }, { name: 'asc' }],
  })
  return varieties.map((variety) => ({
    id: variety.id,
    name: variety.name,
    taxonName: taxonName(variety.taxon),
    commonName: variety.taxon.commonName,
    nameCertainty: variety.nameCertainty,
    protection: variety.protection,
    protectionCheckedOn: dayOrNull(variety.protectionCheckedOn),
    needsOverride: needsOverride(variety, year),
    synonyms: variety.synonyms.map(({ id, name, kind }) => ({ id, name, kind })),
    foundAs:
      key === '' || variety.nameKey.includes(key)
        ? null
        : (variety.synonyms.find((synonym) => synonym.nameKey.includes(key))?.name ?? null),
    limbs: variety._count.limbs,
  }))
}

/** The kinds of fruit of which the group has a variety, with how many. */
export async function taxaInUse(
  db: Database,
  actor: Actor,
): Promise<{ readonly key: string; readonly commonName: string; readonly varieties: number }[]> {
  const taxa = await db.prisma.taxon.findMany({
    where: { varieties: { some: { groupId: actor.groupId } } },
    select: {
      key: true,
      commonName: true,
      _count: { select: { varieties: { where: { groupId: actor.groupId } } } },
    },
    orderBy: { commonName: 'asc' },
  })
  return taxa.map(({ key, commonName, _count }) => ({ key, commonName, varieties: _count.varieties }))
}

/** The rule of the database's offering check, for showing before anybody tries. */
function sharingOf(
  taxon: { readonly family: string; readonly genus: string },
  allowsVitis: boolean,
): Sharing {
  if (taxon.family === 'Rutaceae') return 'blocked'
  return taxon.genus === 'Vitis' && !allowsVitis ? 'group-said-no' : 'shared'
}

/** One variety with its names, its protection and the limbs it grows on; null when the group has none by that id. */
export async function getVariety(db: Database, actor: Actor, id: string): Promise<VarietyView | null> {
  if (!isUuid(id)) return null
  const { groupId } = actor
  const variety = await db.prisma.variety.findFirst({
    where: { groupId, id },
    include: {
      taxon: true,
      synonyms: { orderBy: { name: 'asc' } },
      limbs: { include: { tree: { include: { keeper: true } } }, orderBy: { createdAt: 'asc' } },
      _count: { select: { attempts: { where: { withdrawnAt: null } } } },
    },
  })
  if (!variety) return null
  const [group, lots] = await Promise.all([
    db.prisma.orchardGroup.findUniqueOrThrow({ where: { id: groupId }, select: { allowsVitis: true } }),
    db.prisma.lot.count({ where: { groupId, limb: { varietyId: id } } }),
  ])
  return {
    id,
    name: variety.name,
    taxonKey: variety.taxonKey,
    taxonName: taxonName(variety.taxon),
    commonName: variety.taxon.commonName,
    family: variety.taxon.family,
    nameCertainty: variety.nameCertainty,
    note: variety.note,
    protection: variety.protection,
    protectionNote: variety.protectionNote,
    protectionCheckedOn: dayOrNull(variety.protectionCheckedOn),
    introducedYear: variety.introducedYear,
    needsOverride: needsOverride(variety, db.now().getUTCFullYear()),
    sharing: sharingOf(variety.taxon, group.allowsVitis),
    synonyms: variety.synonyms.map(({ id: synonymId, name, kind }) => ({ id: synonymId, name, kind })),
    growing: variety.limbs.map((limb) => ({
      limbId: limb.id,
      treeCode: limb.tree.code,
      mark: limb.mark,
      keeperName: limb.tree.keeper.displayName,
      place: limb.tree.place,
      identity: limb.identity,
      goneOn: dayOrNull(limb.goneOn ?? limb.tree.goneOn),
    })),
    lots,
    attempts: variety._count.attempts,
    mayEdit: can(actor, 'edit-varieties'),
    mayLiftProtection: can(actor, 'override-protection'),
  }
}
