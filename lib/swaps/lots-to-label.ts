import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { required } from '#lib/kernel/assert.ts'
import { isUuid } from '#lib/kernel/id.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { type LotFilter, type LotRow, lotRows } from '#lib/wood/lot-rows.ts'
import { storedWindows } from '#lib/wood/stored-windows.ts'
import { type StickSums, stickSums } from '#lib/wood/view.ts'
import type { KeptWindow, NoWindow } from '#lib/wood/window-of-lot.ts'

/** Which lots labels are wanted for: one, those of a cutting session, or those on offer in a swap. */
export type LabelWish = { readonly lot: string } | { readonly session: string } | { readonly swap: string }

export interface LotToLabel {
  readonly lot: LotRow
  readonly sums: StickSums
  readonly window: KeptWindow | NoWindow
}

async function filterOf(db: Database, actor: Actor, wish: LabelWish): Promise<LotFilter | null> {
  if ('lot' in wish) return { code: wish.lot.replaceAll('-', '').toUpperCase() }
  if ('session' in wish) return isUuid(wish.session) ? { sessionId: wish.session } : null
  if (!isUuid(wish.swap) || !can(actor, 'hand-over')) return null
  const offerings = await db.prisma.offering.findMany({
    where: { groupId: actor.groupId, swapId: wish.swap, withdrawnAt: null },
    select: { lotId: true },
  })
  return { lotIds: offerings.map(({ lotId }) => lotId) }
}

/**
 * Lots with what their labels say, those with sticks left in a store; by crop, name and code. Empty when the group has
 * none by that wish. Labels of a whole swap are for the people at the door.
 */
export async function lotsToLabel(
  db: Database,
  actor: Actor,
  timeZone: string,
  wish: LabelWish,
): Promise<LotToLabel[]> {
  const filter = await filterOf(db, actor, wish)
  if (!filter) return []
  const lots = await lotRows(db.prisma, actor.groupId, { ...filter, isKept: true })
  const windows = await storedWindows(
    db,
    actor.groupId,
    timeZone,
    lots.map(({ lotId }) => lotId),
  )
  const sorted =
    'session' in wish
      ? lots
      : lots.toSorted(
          (a, b) =>
            (a.commonName ?? '~').localeCompare(b.commonName ?? '~', 'en') ||
            (a.varietyName ?? '~').localeCompare(b.varietyName ?? '~', 'en') ||
            a.code.localeCompare(b.code),
        )
  return sorted.map((lot) => ({
    lot,
    sums: stickSums(lot.sticks),
    window: required(windows.get(lot.lotId), 'the window of a lot'),
  }))
}
