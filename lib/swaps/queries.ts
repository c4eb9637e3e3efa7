import type { Actor } from '#lib/access/actor.ts'
import { can, mayActFor } from '#lib/access/policy.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { required } from '#lib/kernel/assert.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { catalogueRows } from '#lib/swaps/catalogue-rows.ts'
import { claimRows } from '#lib/swaps/claim-rows.ts'
import { claimingAt } from '#lib/swaps/claim-times.ts'
import type {
  Catalogue,
  CatalogueRow,
  ClaimView,
  CropCount,
  HandOverPerson,
  Limits,
  OfferedRow,
  SwapView,
} from '#lib/swaps/view.ts'
import { storedWindows } from '#lib/wood/stored-windows.ts'

const withLots = { _count: { select: { offerings: { where: { withdrawnAt: null } } } } } as const

interface SwapRow extends Omit<SwapView, 'heldOn' | 'claiming' | 'lots'> {
  readonly heldOn: Date
  readonly _count: { readonly offerings: number }
}

const swapView = (row: SwapRow, now: Date): SwapView => ({
  id: row.id,
  name: row.name,
  heldOn: civilDateOf(row.heldOn),
  place: row.place,
  status: row.status,
  claimsOpenAt: row.claimsOpenAt,
  claimsCloseAt: row.claimsCloseAt,
  claiming: claimingAt(row, now),
  capPerMember: row.capPerMember,
  capPerVariety: row.capPerVariety,
  waitingHours: row.waitingHours,
  noShowAt: row.noShowAt,
  noShowsReleasedAt: row.noShowsReleasedAt,
  note: row.note,
  lots: row._count.offerings,
})

/** The group's swaps, latest day first. */
export async function listSwaps(db: Database, actor: Actor): Promise<SwapView[]> {
  const swaps = await db.prisma.swap.findMany({
    where: { groupId: actor.groupId },
    include: withLots,
    orderBy: [{ heldOn: 'desc' }, { id: 'desc' }],
  })
  const now = db.now()
  return swaps.map((swap) => swapView(swap, now))
}

/** One swap; null when the group has none by that id. */
export async function getSwap(db: Database, actor: Actor, swapId: string): Promise<SwapView | null> {
  if (!isUuid(swapId)) return null
  const swap = await db.prisma.swap.findUnique({
    where: { groupId_id: { groupId: actor.groupId, id: swapId } },
    include: withLots,
  })
  return swap && swapView(swap, db.now())
}

const stands = (claim: ClaimView) => claim.status !== 'cancelled'

function limitsOf(swap: SwapView, memberId: string, claims: readonly ClaimView[]): Limits {
  const ofVariety: Record<string, number> = {}
  const standing = claims.filter(stands)
  for (const { varietyId, shares } of standing) {
    ofVariety[varietyId] = (ofVariety[varietyId] ?? 0) + shares
  }
  return {
    memberId,
    held: standing.reduce((sum, claim) => sum + claim.shares, 0),
    cap: swap.capPerMember,
    capPerVariety: swap.capPerVariety,
    ofVariety,
    sticks: standing.reduce((sum, claim) => sum + claim.sticks, 0),
    lots: new Set(standing.map((claim) => claim.lotId)).size,
  }
}

/** The rows with how long their wood keeps and what the asking member has of it, in two statements. */
async function toCatalogueRows(
  db: Database,
  groupId: string,
  rows: readonly OfferedRow[],
  claims: readonly ClaimView[],
): Promise<CatalogueRow[]> {
  const timeZone = rows[0]?.timeZone
  if (timeZone === undefined) return []
  const windows = await storedWindows(
    db,
    groupId,
    timeZone,
    rows.map((row) => row.lotId),
  )
  return rows.map((row) => ({
    ...row,
    window: required(windows.get(row.lotId), 'a lot that was asked for'),
    mine: claims
      .filter((claim) => stands(claim) && claim.offeringId === row.offeringId)
      .map(({ claimId, shares, status }) => ({ claimId, shares, status })),
  }))
}

export interface CatalogueWish {
  /** A taxon's key. */
  readonly crop?: string | undefined
  readonly search?: string | undefined
  /** Only lots with shares left. */
  readonly onlyFree?: boolean | undefined
}

/** What is offered in a swap, and what the asking member holds of it. Nobody else's claims are in it. */
export async function getCatalogue(
  db: Database,
  actor: Actor,
  swapId: string,
  wish: CatalogueWish = {},
): Promise<Catalogue | null> {
  const swap = await getSwap(db, actor, swapId)
  if (!swap) return null
  const [found, claims] = await Promise.all([
    catalogueRows(db, actor.groupId, swapId, { search: wish.search }),
    claimRows(db, actor.groupId, swapId, actor.memberId),
  ])
  const rows = found.filter(
    (row) =>
      (wish.crop === undefined || row.taxonKey === wish.crop) && (!wish.onlyFree || row.sharesLeft > 0),
  )
  return {
    swap,
    crops: cropsOf(found),
    found: found.length,
    stillFree: found.filter((row) => row.sharesLeft > 0).length,
    rows: await toCatalogueRows(db, actor.groupId, rows, claims),
    limits: limitsOf(swap, actor.memberId, claims),
  }
}

function cropsOf(rows: readonly OfferedRow[]): CropCount[] {
  const crops = new Map<string, CropCount>()
  for (const { taxonKey, commonName } of rows) {
    if (taxonKey === null || commonName === null) continue
    const lots = (crops.get(taxonKey)?.lots ?? 0) + 1
    crops.set(taxonKey, { key: taxonKey, name: commonName, lots })
  }
  return [...crops.values()]
}

/** One lot of a swap, with the limits of whoever would claim it; null when it is not offered there. */
export async function getOffering(
  db: Database,
  actor: Actor,
  swapId: string,
  offeringId: string,
): Promise<{ readonly swap: SwapView; readonly row: CatalogueRow; readonly limits: Limits } | null> {
  if (!isUuid(offeringId)) return null
  const swap = await getSwap(db, actor, swapId)
  if (!swap) return null
  const [rows, claims] = await Promise.all([
    catalogueRows(db, actor.groupId, swapId, { offeringId }),
    claimRows(db, actor.groupId, swapId, actor.memberId),
  ])
  const [row] = await toCatalogueRows(db, actor.groupId, rows, claims)
  return row ? { swap, row, limits: limitsOf(swap, actor.memberId, claims) } : null
}

/**
 * A member's claims in a swap and what they hold of it; one's own, or somebody's that one may act for. Null when
 * there is no such swap or the claims are not for the asker's eyes.
 */
export async function claimsOf(
  db: Database,
  actor: Actor,
  swapId: string,
  memberId: string = actor.memberId,
): Promise<{
  readonly swap: SwapView
  readonly claims: readonly ClaimView[]
  readonly limits: Limits
} | null> {
  if (!isUuid(memberId) || !mayActFor(actor, memberId)) return null
  const swap = await getSwap(db, actor, swapId)
  if (!swap) return null
  const claims = await claimRows(db, actor.groupId, swapId, memberId)
  return { swap, claims, limits: limitsOf(swap, memberId, claims) }
}

/** Everybody with claims in a swap, by name, for the people at the door; null for anybody else. */
export async function handOverList(
  db: Database,
  actor: Actor,
  swapId: string,
  options: { readonly search?: string | undefined } = {},
): Promise<{ readonly swap: SwapView; readonly people: readonly HandOverPerson[] } | null> {
  if (!can(actor, 'hand-over')) return null
  const swap = await getSwap(db, actor, swapId)
  if (!swap) return null
  const people = await db.prisma.$queryRaw<HandOverPerson[]>`
    select m.id as "memberId", m.display_name as name,
        count(*) filter (where k.status = 'promised')::int as "claimsPromised",
        coalesce(sum(k.sticks) filter (where k.status = 'promised'), 0)::int as "sticksPromised",
        count(*) filter (where k.status = 'handed_over')::int as "claimsHandedOver",
        coalesce(sum(k.sticks) filter (where k.status = 'handed_over'), 0)::int as "sticksHandedOver"
      from claim k join member m on m.group_id = k.group_id and m.id = k.member_id
      where k.group_id = ${actor.groupId}::uuid and k.swap_id = ${swapId}::uuid and k.status <> 'cancelled'
      group by m.id, m.display_name
      order by m.display_name, m.id`
  // The people of one swap are few enough to compare here, where an accent more or less does not matter.
  const wanted = cultivarSearchKey(options.search ?? '')
  return { swap, people: people.filter((person) => cultivarSearchKey(person.name).includes(wanted)) }
}

/** What one member has coming and has had, for the people at the door; null for anybody else. */
export async function handOverFor(
  db: Database,
  actor: Actor,
  swapId: string,
  memberId: string,
): Promise<{
  readonly swap: SwapView
  readonly member: { readonly id: string; readonly name: string }
  readonly claims: readonly ClaimView[]
} | null> {
  if (!can(actor, 'hand-over') || !isUuid(memberId)) return null
  const swap = await getSwap(db, actor, swapId)
  if (!swap) return null
  const member = await db.prisma.member.findUnique({
    where: { groupId_id: { groupId: actor.groupId, id: memberId } },
    select: { id: true, displayName: true },
  })
  if (!member) return null
  const claims = await claimRows(db, actor.groupId, swapId, memberId)
  return { swap, member: { id: member.id, name: member.displayName }, claims }
}
