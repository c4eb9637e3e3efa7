import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { MoveKind } from '#lib/platform/generated/enums.ts'
import type { ClaimOfLot, HoldOnLot, MoveView, OfferingOfLot } from '#lib/wood/view.ts'

/** Whether the reader may learn that wood went to a person: those who hand over, and the person. */
const seesPerson = (actor: Actor, memberId: string | null): boolean =>
  can(actor, 'hand-over') || actor.memberId === memberId

interface RawMove {
  readonly id: string
  readonly seq: bigint
  readonly kind: MoveKind
  readonly from_account: string
  readonly to_account: string
  readonly from_name: string | null
  readonly to_name: string | null
  readonly sticks: number
  readonly from_after: number
  readonly to_after: number
  readonly happened_at: Date
  readonly recorded_by_id: string
  readonly recorded_by: string
  readonly on_behalf_of_id: string | null
  readonly on_behalf_of: string | null
  readonly reason: string | null
  readonly claim_id: string | null
  readonly attempt_id: string | null
  readonly reverses_id: string | null
  readonly reversed_by_id: string | null
}

const accountWords: Readonly<Record<string, string>> = {
  cut: 'the tree',
  store: 'the store',
  promised: 'promised',
  unnamed: 'somebody, no name taken',
  parcel: 'a parcel',
  used: 'grafted or stuck',
  destroyed: 'destroyed',
  lost: 'lost',
}

const memberOf = (account: string): string | null => (account.startsWith('member:') ? account.slice(7) : null)

function accountWord(actor: Actor, account: string, name: string | null): string {
  const member = memberOf(account)
  if (member === null) return accountWords[account] ?? account
  return seesPerson(actor, member) && name ? name : 'a member'
}

/** A move that says what a person has, or has claimed. */
const isPersonal = (row: RawMove): boolean =>
  row.kind === 'use' ||
  [row.from_account, row.to_account].some((account) => account === 'promised' || memberOf(account) !== null)

function whoRecorded(actor: Actor, row: RawMove): { recordedBy: string | null; onBehalfOf: string | null } {
  if (!isPersonal(row)) return { recordedBy: row.recorded_by, onBehalfOf: row.on_behalf_of }
  const isForSomebody = row.on_behalf_of_id !== null && row.on_behalf_of_id !== row.recorded_by_id
  return {
    recordedBy: isForSomebody || seesPerson(actor, row.recorded_by_id) ? row.recorded_by : null,
    onBehalfOf: seesPerson(actor, row.on_behalf_of_id) ? row.on_behalf_of : null,
  }
}

const movesPerPage = 100
/** Greater than any entry's. */
const lastSeq = 2n ** 63n - 1n

/** A page of a lot's ledger. */
export interface MovesPage {
  readonly moves: readonly MoveView[]
  /** The last entry before these, up to which the page before goes; null on the first. */
  readonly earlierUpTo: string | null
}

/** What lay free in the store before an entry. */
async function freeBefore(db: Database, actor: Actor, lotId: string, seq: bigint): Promise<number> {
  const [row] = await db.prisma.$queryRaw<{ readonly free: number }[]>`
    select case v.to_account when 'store' then v.to_after else v.from_after end as free
      from move v
      where v.group_id = ${actor.groupId}::uuid and v.lot_id = ${lotId}::uuid and v.seq < ${seq}::bigint
        and 'store' in (v.from_account, v.to_account)
      order by v.seq desc limit 1`
  return row?.free ?? 0
}

/**
 * The entries of a lot's ledger in the order of recording, with what lay free in the store after each: the latest
 * hundred, or those up to an entry. However long a lot's story is, a page of it takes the same time.
 */
export async function movesOfLot(
  db: Database,
  actor: Actor,
  lotId: string,
  upTo: string | null,
): Promise<MovesPage> {
  const latestFirst = await db.prisma.$queryRaw<RawMove[]>`
    select v.id, v.seq, v.kind::text as kind, v.from_account, v.to_account, f.display_name as from_name,
        t.display_name as to_name, v.sticks, v.from_after, v.to_after, v.happened_at, v.recorded_by_id, r.display_name as recorded_by, v.on_behalf_of_id, o.display_name as on_behalf_of,
        v.reason, v.claim_id, v.attempt_id,
        v.reverses_id, (select x.id from move x where x.group_id = v.group_id and x.reverses_id = v.id) as reversed_by_id
      from move v
      join member r on r.group_id = v.group_id and r.id = v.recorded_by_id
      left join member o on o.group_id = v.group_id and o.id = v.on_behalf_of_id
      left join member f on f.group_id = v.group_id and 'member:' || f.id::text = v.from_account
      left join member t on t.group_id = v.group_id and 'member:' || t.id::text = v.to_account
      where v.group_id = ${actor.groupId}::uuid and v.lot_id = ${lotId}::uuid
        and v.seq <= coalesce((select u.seq from move u where u.group_id = ${actor.groupId}::uuid
          and u.id = ${upTo}::uuid and u.lot_id = ${lotId}::uuid), ${lastSeq}::bigint)
      order by v.seq desc
      limit ${movesPerPage + 1}::int`
  const earlier = latestFirst[movesPerPage]
  const rows = latestFirst.slice(0, movesPerPage).reverse()
  let freeAfter = earlier && rows[0] ? await freeBefore(db, actor, lotId, rows[0].seq) : 0
  const moves = rows.map((row) => {
    if (row.from_account === 'store') freeAfter = row.from_after
    if (row.to_account === 'store') freeAfter = row.to_after
    const isPlain =
      row.claim_id === null && row.attempt_id === null && row.kind !== 'reversal' && row.kind !== 'split'
    const isReversed = row.reversed_by_id !== null
    return {
      moveId: row.id,
      kind: row.kind,
      from: accountWord(actor, row.from_account, row.from_name),
      to: accountWord(actor, row.to_account, row.to_name),
      sticks: row.sticks,
      happenedAt: row.happened_at,
      ...whoRecorded(actor, row),
      reason: row.reason,
      isReversed,
      reversedById: row.reversed_by_id,
      reversesId: row.reverses_id,
      freeAfter,
      canBeCorrected:
        isPlain && !isReversed && (can(actor, 'keep-stores') || row.recorded_by_id === actor.memberId),
    }
  })
  return { moves, earlierUpTo: earlier?.id ?? null }
}

interface RawOffering {
  readonly offering_id: string
  readonly swap_id: string
  readonly swap_name: string
  readonly held_on: Date
  readonly withdrawn_at: Date | null
  readonly sticks_per_share: number
  readonly shares: number
  readonly shares_claimed: number
  readonly claim_id: string | null
  readonly member_id: string | null
  readonly member_name: string | null
  readonly claimed_shares: number | null
  readonly claimed_sticks: number | null
  readonly status: 'promised' | 'handed_over' | null
  readonly purpose: string | null
  readonly made_at: Date | null
}

function toClaim(actor: Actor, row: RawOffering): ClaimOfLot | null {
  if (!row.claim_id || !row.made_at) return null
  const isSeen = seesPerson(actor, row.member_id)
  return {
    claimId: row.claim_id,
    memberName: isSeen ? row.member_name : null,
    isOwn: row.member_id === actor.memberId,
    shares: row.claimed_shares ?? 0,
    sticks: row.claimed_sticks ?? 0,
    isHandedOver: row.status === 'handed_over',
    purpose: isSeen ? row.purpose : null,
    madeAt: row.made_at,
  }
}

/** The swaps a lot was offered in, the earliest first, with the claims that stand or were handed over. */
export async function offeringsOfLot(db: Database, actor: Actor, lotId: string): Promise<OfferingOfLot[]> {
  const rows = await db.prisma.$queryRaw<RawOffering[]>`
    select o.id as offering_id, s.id as swap_id, s.name as swap_name, s.held_on, o.withdrawn_at, o.sticks_per_share,
        o.shares, o.shares_claimed, c.id as claim_id, c.member_id, m.display_name as member_name,
        c.shares as claimed_shares, c.sticks as claimed_sticks, c.status::text as status, c.purpose, c.made_at
      from offering o
      join swap s on s.group_id = o.group_id and s.id = o.swap_id
      left join claim c on c.group_id = o.group_id and c.offering_id = o.id and c.status <> 'cancelled'
      left join member m on m.group_id = c.group_id and m.id = c.member_id
      where o.group_id = ${actor.groupId}::uuid and o.lot_id = ${lotId}::uuid
      order by s.held_on, o.offered_at, c.made_at, c.id`
  const byOffering = new Map<string, OfferingOfLot & { readonly claims: ClaimOfLot[] }>()
  for (const row of rows) {
    const offering = byOffering.get(row.offering_id) ?? {
      offeringId: row.offering_id,
      swapId: row.swap_id,
      swapName: row.swap_name,
      heldOn: civilDateOf(row.held_on),
      isWithdrawn: row.withdrawn_at !== null,
      sticksPerShare: row.sticks_per_share,
      shares: row.shares,
      sharesClaimed: row.shares_claimed,
      claims: [],
    }
    const claim = toClaim(actor, row)
    if (claim) offering.claims.push(claim)
    byOffering.set(row.offering_id, offering)
  }
  return [...byOffering.values()]
}

/** The holds on a lot and on its limb, open ones first, then the latest. */
export async function holdsOnLot(
  db: Database,
  groupId: string,
  lot: { readonly lotId: string; readonly limbId: string },
): Promise<HoldOnLot[]> {
  const rows = await db.prisma.$queryRaw<
    {
      readonly id: string
      readonly on_limb: boolean
      readonly reason: string
      readonly placed_by: string
      readonly placed_at: Date
      readonly released_by: string | null
      readonly released_at: Date | null
      readonly release_reason: string | null
    }[]
  >`
    select h.id, h.limb_id is not null as on_limb, h.reason, p.display_name as placed_by, h.placed_at,
        r.display_name as released_by, h.released_at, h.release_reason
      from health_hold h
      join member p on p.group_id = h.group_id and p.id = h.placed_by_id
      left join member r on r.group_id = h.group_id and r.id = h.released_by_id
      where h.group_id = ${groupId}::uuid and (h.lot_id = ${lot.lotId}::uuid or h.limb_id = ${lot.limbId}::uuid)
      order by h.released_at is not null, h.placed_at desc`
  return rows.map((row) => ({
    holdId: row.id,
    onLimb: row.on_limb,
    reason: row.reason,
    placedBy: row.placed_by,
    placedAt: row.placed_at,
    releasedBy: row.released_by,
    releasedAt: row.released_at,
    releaseReason: row.release_reason,
  }))
}
