import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import { isUuid } from '#lib/kernel/id.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { getSwap, handOverFor } from '#lib/swaps/queries.ts'
import { scannedCode } from '#lib/swaps/scanned-code.ts'
import type { HandOverPerson, SwapView } from '#lib/swaps/view.ts'

/** Somebody as the helpers at the door see them. */
export interface DayPerson extends HandOverPerson {
  /** When they came; null while they have not. */
  readonly cameAt: Date | null
}

export interface DayCounts {
  readonly came: number
  readonly waiting: number
  readonly sticksPromised: number
  readonly sticksHandedOver: number
}

/** A lot that somebody asked for by its code, with those who wait for it. */
export interface DayLot {
  readonly code: string
  readonly varietyName: string | null
  readonly isOffered: boolean
  readonly people: readonly { readonly memberId: string; readonly name: string; readonly sticks: number }[]
}

export interface SwapDay {
  readonly swap: SwapView
  readonly counts: DayCounts
  readonly people: readonly DayPerson[]
  readonly lot: DayLot | null
  readonly version: string
}

const peopleOf = (db: Database, groupId: string, swapId: string) => db.prisma.$queryRaw<DayPerson[]>`
  select m.id as "memberId", m.display_name as name, p.came_at as "cameAt",
      count(k.id) filter (where k.status = 'promised')::int as "claimsPromised",
      coalesce(sum(k.sticks) filter (where k.status = 'promised'), 0)::int as "sticksPromised",
      count(k.id) filter (where k.status = 'handed_over')::int as "claimsHandedOver",
      coalesce(sum(k.sticks) filter (where k.status = 'handed_over'), 0)::int as "sticksHandedOver"
    from member m
    left join swap_presence p on p.group_id = m.group_id and p.member_id = m.id and p.swap_id = ${swapId}::uuid
      and p.undone_at is null
    left join claim k on k.group_id = m.group_id and k.member_id = m.id and k.swap_id = ${swapId}::uuid
      and k.status <> 'cancelled'
    where m.group_id = ${groupId}::uuid and (m.left_on is null or k.id is not null)
    group by m.id, m.display_name, p.came_at
    order by m.display_name, m.id`

async function lotOf(db: Database, groupId: string, swapId: string, code: string): Promise<DayLot> {
  const lot = await db.prisma.lot.findFirst({
    where: { groupId, code },
    select: {
      limb: { select: { variety: { select: { name: true } } } },
      offerings: {
        where: { swapId, withdrawnAt: null },
        select: {
          claims: {
            where: { status: 'promised' },
            select: { sticks: true, memberId: true, member: { select: { displayName: true } } },
          },
        },
      },
    },
  })
  const offering = lot?.offerings[0]
  return {
    code,
    varietyName: lot?.limb.variety?.name ?? null,
    isOffered: offering !== undefined,
    people: (offering?.claims ?? [])
      .map(({ memberId, member, sticks }) => ({ memberId, name: member.displayName, sticks }))
      .sort((a, b) => a.name.localeCompare(b.name, 'en')),
  }
}

/** A mark that is another one as soon as anything of the day has changed. One statement. */
async function markOf(db: Database, groupId: string, swapId: string): Promise<string> {
  const [row] = await db.prisma.$queryRaw<{ mark: string }[]>`
    select concat_ws('.',
      (select coalesce(max(v.seq), 0) from move v where v.group_id = ${groupId}::uuid and v.lot_id in
        (select o.lot_id from offering o where o.group_id = ${groupId}::uuid and o.swap_id = ${swapId}::uuid)),
      (select count(*) || '.' || count(undone_at) from swap_presence
        where group_id = ${groupId}::uuid and swap_id = ${swapId}::uuid)) as mark`
  return row?.mark ?? ''
}

/** The mark of a swap's day, for a screen that looks whether somebody else did something; null for anybody else. */
export async function dayVersion(db: Database, actor: Actor, swapId: string): Promise<string | null> {
  if (!can(actor, 'hand-over') || !isUuid(swapId)) return null
  return markOf(db, actor.groupId, swapId)
}

/**
 * The day of a swap on one screen: everybody who has claimed or come, or whom a search finds, and the counts. At most
 * six statements. Null without the right to hand over.
 */
export async function runDay(
  db: Database,
  actor: Actor,
  swapId: string,
  search = '',
): Promise<SwapDay | null> {
  if (!can(actor, 'hand-over')) return null
  const swap = await getSwap(db, actor, swapId)
  if (!swap) return null
  const { groupId } = actor
  // Before the people: what changes in between shows as a change at the next look.
  const version = await markOf(db, groupId, swapId)
  const everybody = await peopleOf(db, groupId, swapId)
  const wanted = cultivarSearchKey(search)
  const code = scannedCode(search)
  const concerned = everybody.filter(
    ({ claimsPromised, claimsHandedOver, cameAt }) =>
      claimsPromised + claimsHandedOver > 0 || cameAt !== null,
  )
  const sum = (of: (person: DayPerson) => number) =>
    concerned.reduce((total, person) => total + of(person), 0)
  return {
    swap,
    version,
    counts: {
      came: concerned.filter(({ cameAt }) => cameAt !== null).length,
      waiting: concerned.filter(({ claimsPromised }) => claimsPromised > 0).length,
      sticksPromised: sum((person) => person.sticksPromised),
      sticksHandedOver: sum((person) => person.sticksHandedOver),
    },
    people:
      wanted === '' ? concerned : everybody.filter(({ name }) => cultivarSearchKey(name).includes(wanted)),
    lot: code === null ? null : await lotOf(db, groupId, swapId, code),
  }
}

/** One person at the door: their claims, since when they are here, and the mark of the day. */
export async function personAtDoor(db: Database, actor: Actor, swapId: string, memberId: string) {
  const found = await handOverFor(db, actor, swapId, memberId)
  if (!found) return null
  const { groupId } = actor
  const [version, presence] = await Promise.all([
    markOf(db, groupId, swapId),
    db.prisma.swapPresence.findFirst({
      where: { groupId, swapId, memberId, undoneAt: null },
      select: { cameAt: true },
    }),
  ])
  return { ...found, version, cameAt: presence?.cameAt ?? null }
}
