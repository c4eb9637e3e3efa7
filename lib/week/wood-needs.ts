import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { addDays, type CivilDate, utcMidnight } from '#lib/kernel/civil-date.ts'
import { memberAccount } from '#lib/ledger/accounts.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { isWithin, type Need, type WoodInNeed } from '#lib/week/need.ts'
import { type LotRow, lotRows } from '#lib/wood/lot-rows.ts'
import { storedWindows } from '#lib/wood/stored-windows.ts'

/** A likely limit this near, or past, asks for something to be done. */
const nearDays = 14
/** Wood older than this is out of its window whatever it is. */
const oldestDays = 400
/** More lots than this are looked at on the wood pages. */
const mostLots = 200

interface Mine {
  readonly lotId: string
  /** Sticks in a store that this person looks after: they cut them, keep the tree, or keep the store. */
  readonly inStore: number
  /** Sticks that this person received. */
  readonly inHand: number
}

/** The lots that are this person's to look after, the earliest cut first. One statement. */
async function lotsOf(db: Database, actor: Actor, cutFrom: CivilDate): Promise<readonly Mine[]> {
  const { groupId, memberId } = actor
  const keepsStores = can(actor, 'keep-stores')
  return db.prisma.$queryRaw<Mine[]>`
    select l.id as "lotId",
      coalesce(sum(h.sticks) filter (where h.account = 'store'), 0)::int as "inStore",
      coalesce(sum(h.sticks) filter (where h.account <> 'store'), 0)::int as "inHand"
    from lot l
    join holding h on h.group_id = l.group_id and h.lot_id = l.id and h.sticks > 0
    join cutting_session c on c.group_id = l.group_id and c.id = l.session_id
    join limb b on b.group_id = l.group_id and b.id = l.limb_id
    join tree t on t.group_id = b.group_id and t.id = b.tree_id
    left join stint i on i.group_id = l.group_id and i.lot_id = l.id and i.ended_at is null
    left join store s on s.group_id = i.group_id and s.id = i.store_id
    where l.group_id = ${groupId}::uuid and l.cut_on >= ${utcMidnight(cutFrom)}::date
      and (h.account = ${memberAccount(memberId)}::text
        or h.account = 'store' and (c.cutter_id = ${memberId}::uuid or t.keeper_id = ${memberId}::uuid
          or s.keeper_id = ${memberId}::uuid or (${keepsStores}::boolean and s.keeper_id is null)))
    group by l.id, l.cut_on
    order by l.cut_on, l.id
    limit ${mostLots}::int`
}

const soonest = (wood: readonly WoodInNeed[]): CivilDate | null =>
  wood.reduce<CivilDate | null>(
    (first, { likely }) => (likely !== null && (first === null || likely < first) ? likely : first),
    null,
  )

function woodInNeed(
  lot: LotRow,
  sticks: number,
  window: Pick<WoodInNeed, 'likely' | 'limitedBy' | 'state'>,
): WoodInNeed {
  const { code, varietyName, commonName, cutOn, hold } = lot
  const { likely, limitedBy, state } = window
  return { code, varietyName, commonName, cutOn, sticks, isHeld: hold !== null, likely, limitedBy, state }
}

const unknownWindow = { likely: null, limitedBy: null, state: null } as const

/** Wood in somebody's care that will not keep, wood in their hands, and wood that nobody can name. */
export async function woodNeeds(
  db: Database,
  actor: Actor,
  when: { readonly today: CivilDate; readonly timeZone: string },
): Promise<readonly Need[]> {
  const { today, timeZone } = when
  const mine = await lotsOf(db, actor, addDays(today, -oldestDays))
  if (mine.length === 0) return []
  const lots = await lotRows(db.prisma, actor.groupId, { lotIds: mine.map(({ lotId }) => lotId) })
  const windows = await storedWindows(
    db,
    actor.groupId,
    timeZone,
    lots.map((lot) => lot.lotId),
  )
  const sticksOf = new Map(mine.map((row) => [row.lotId, row]))
  const wood = (place: 'inStore' | 'inHand') =>
    lots.flatMap((lot) => {
      const sticks = sticksOf.get(lot.lotId)?.[place] ?? 0
      const window = windows.get(lot.lotId)
      return sticks > 0 ? [woodInNeed(lot, sticks, window?.kind === 'window' ? window : unknownWindow)] : []
    })
  const inStore = wood('inStore')
  const near = inStore.filter(
    ({ likely, isHeld }) => likely !== null && !isHeld && isWithin(nearDays, today, likely),
  )
  const inHand = wood('inHand')
  const nameless = can(actor, 'edit-varieties') ? inStore.filter((lot) => lot.varietyName === null) : []
  const need = (kind: 'wood-near-limit' | 'wood-in-hand', of: readonly WoodInNeed[]): Need[] => {
    const by = soonest(of)
    return of.length > 0 ? [{ kind, wood: of, by, isLate: by !== null && by < today }] : []
  }
  return [
    ...need('wood-near-limit', near),
    ...need('wood-in-hand', inHand),
    ...(nameless.length > 0
      ? [{ kind: 'wood-without-name', wood: nameless, by: null, isLate: false } as const]
      : []),
  ]
}
