import { memberAccount } from '#lib/ledger/accounts.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { TestGroup, TestLot } from '#tests/support/actors.ts'

/** Sticks of a lot in a member's hands, as if a parcel had brought them. */
export async function giveSticks(
  db: Database,
  group: TestGroup,
  lot: TestLot,
  memberId: string,
  sticks: number,
): Promise<void> {
  const move = { groupId: group.groupId, lotId: lot.lotId, sticks, happenedAt: db.now() }
  const recordedBy = group.organiser.memberId
  await moveSticks(db.prisma, {
    ...move,
    id: db.newId(),
    kind: 'post',
    from: 'store',
    to: 'parcel',
    recordedBy,
  })
  await moveSticks(db.prisma, {
    ...move,
    id: db.newId(),
    kind: 'arrive',
    from: 'parcel',
    to: memberAccount(memberId),
    recordedBy,
  })
}

/** Sticks of a lot by account. */
export async function holdings(db: Database, lot: TestLot): Promise<Record<string, number>> {
  const rows = await db.prisma.holding.findMany({ where: { lotId: lot.lotId } })
  return Object.fromEntries(rows.map((row) => [row.account, row.sticks]))
}
