import { type CivilDate, civilDateOf } from '#lib/kernel/civil-date.ts'
import type { Queries } from '#lib/platform/database/database.ts'
import type { LotPeople } from '#lib/wood/may-tend.ts'

/** A lot as the commands on it need it. */
export interface LotToTend extends LotPeople {
  readonly lotId: string
  readonly code: string
  readonly cutOn: CivilDate
  /** Where it is now; null when nobody has said, or no longer. */
  readonly stay: { readonly id: string; readonly storeId: string; readonly beganAt: Date } | null
}

/** Reads a lot and keeps others from moving it until the transaction ends; null when the group has no such lot. */
export async function lockLotToTend(tx: Queries, groupId: string, lotId: string): Promise<LotToTend | null> {
  const locked = await tx.$queryRaw<{ id: string }[]>`
    select id from lot where group_id = ${groupId}::uuid and id = ${lotId}::uuid for no key update`
  if (locked.length === 0) return null
  const lot = await tx.lot.findUniqueOrThrow({
    where: { groupId_id: { groupId, id: lotId } },
    include: { session: true, stints: { where: { endedAt: null }, include: { store: true } } },
  })
  const stay = lot.stints[0]
  return {
    lotId,
    code: lot.code,
    cutOn: civilDateOf(lot.cutOn),
    cutterId: lot.session.cutterId,
    storeKeeperId: stay?.store.keeperId ?? null,
    stay: stay ? { id: stay.id, storeId: stay.storeId, beganAt: stay.beganAt } : null,
  }
}
