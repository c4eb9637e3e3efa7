import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { addDays, type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { SwapView } from '#lib/swaps/view.ts'
import { isWithin, type Need } from '#lib/week/need.ts'

/** Claims that open further off than this are no matter of this week. */
const claimsAheadDays = 14
/** Hand-overs are shown from this many days before the swap. */
const handOverAheadDays = 7

interface Promised {
  readonly swapId: string
  readonly claims: number
  readonly sticks: number
  readonly people: number
}

/** What is promised in each swap: to one member, or to everybody. */
async function promisedBySwap(
  db: Database,
  groupId: string,
  memberId: string | null,
): Promise<ReadonlyMap<string, Promised>> {
  const rows = await db.prisma.$queryRaw<Promised[]>`
    select swap_id as "swapId", count(*)::int as claims, sum(sticks)::int as sticks,
      count(distinct member_id)::int as people
    from claim
    where group_id = ${groupId}::uuid and status = 'promised'
      and (${memberId}::uuid is null or member_id = ${memberId}::uuid)
    group by swap_id`
  return new Map(rows.map((row) => [row.swapId, row]))
}

interface Asked {
  readonly today: CivilDate
  readonly now: Date
  readonly timeZone: string
  readonly actor: Actor
}

function claimNeeds(
  swap: SwapView,
  own: Promised | undefined,
  { today, now, timeZone, actor }: Asked,
): Need[] {
  const dayOf = (instant: Date) => civilDateIn(timeZone, instant)
  const opensOn = dayOf(swap.claimsOpenAt)
  const closesOn = dayOf(swap.claimsCloseAt)
  if (swap.status === 'planned' && swap.claimsOpenAt <= now && swap.claimsCloseAt > now) {
    const need = { kind: 'open-the-swap', swap, since: swap.claimsOpenAt, by: opensOn, isLate: true } as const
    return can(actor, 'run-swaps') ? [need] : []
  }
  if (swap.claimsOpenAt > now && isWithin(claimsAheadDays, today, opensOn)) {
    return [{ kind: 'claims-will-open', swap, at: swap.claimsOpenAt, by: opensOn, isLate: false }]
  }
  if (swap.status !== 'open' || now < swap.claimsOpenAt || now >= swap.claimsCloseAt) return []
  const counts = { claims: own?.claims ?? 0, sticks: own?.sticks ?? 0 }
  return [{ kind: 'claims-close', swap, at: swap.claimsCloseAt, ...counts, by: closesOn, isLate: false }]
}

function dayNeeds(
  swap: SwapView,
  own: Promised | undefined,
  all: Promised | undefined,
  { today, now, actor }: Asked,
): Need[] {
  if (swap.status !== 'open') return []
  const isPast = swap.heldOn < today
  const needs: Need[] = []
  if (own && now >= swap.claimsCloseAt) {
    needs.push({ kind: 'collect', swap, ...own, by: swap.heldOn, isLate: isPast })
  }
  if (all && can(actor, 'hand-over') && isWithin(handOverAheadDays, today, swap.heldOn)) {
    needs.push({ kind: 'hand-over', swap, ...all, by: swap.heldOn, isLate: isPast })
  }
  if (isPast && !all && can(actor, 'run-swaps')) {
    needs.push({ kind: 'finish-the-swap', swap, by: addDays(swap.heldOn, 1), isLate: false })
  }
  return needs
}

/** What the group's swaps ask of somebody. */
export async function swapNeeds(
  db: Database,
  actor: Actor,
  swaps: readonly SwapView[],
  when: { readonly today: CivilDate; readonly timeZone: string },
): Promise<readonly Need[]> {
  const current = swaps.filter((swap) => swap.status !== 'finished')
  if (current.length === 0) return []
  const own = await promisedBySwap(db, actor.groupId, actor.memberId)
  const all = can(actor, 'hand-over') ? await promisedBySwap(db, actor.groupId, null) : null
  const asked = { ...when, now: db.now(), actor }
  return current.flatMap((swap) => [
    ...claimNeeds(swap, own.get(swap.id), asked),
    ...dayNeeds(swap, own.get(swap.id), all?.get(swap.id), asked),
  ])
}
