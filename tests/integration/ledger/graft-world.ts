import { civilDate, utcMidnight } from '#lib/kernel/civil-date.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { TestGroup, TestLot } from '#tests/support/actors.ts'

/** An attempt with one stick of the lot, straight from its store, written past the commands. */
export async function makeAttempt(
  db: Database,
  group: TestGroup,
  lot: TestLot,
  options: { readonly pieces?: number } = {},
): Promise<string> {
  const { groupId, member } = group
  const id = db.newId()
  await db.prisma.attempt.create({
    data: {
      groupId,
      id,
      lotId: lot.lotId,
      varietyId: lot.varietyId,
      growerId: member.memberId,
      recordedById: member.memberId,
      method: 'whip_and_tongue',
      madeOn: utcMidnight(civilDate('2026-03-10')),
      pieces: options.pieces ?? 1,
      sticksUsed: 1,
    },
  })
  await moveSticks(db.prisma, {
    groupId,
    id: db.newId(),
    lotId: lot.lotId,
    kind: 'use',
    from: 'store',
    to: 'used',
    sticks: 1,
    happenedAt: db.now(),
    recordedBy: member.memberId,
    attemptId: id,
  })
  return id
}

/** A check of an attempt, written past the commands. */
export async function makeCheck(
  db: Database,
  group: TestGroup,
  attemptId: string,
  counts: {
    readonly pieces: number
    readonly alive: number
    readonly dead: number
    readonly unknown?: number
  },
): Promise<string> {
  const id = db.newId()
  await db.prisma.outcomeCheck.create({
    data: {
      groupId: group.groupId,
      id,
      attemptId,
      pieces: counts.pieces,
      checkedOn: utcMidnight(civilDate('2026-06-01')),
      alive: counts.alive,
      dead: counts.dead,
      unknown: counts.unknown ?? 0,
      recordedById: group.member.memberId,
    },
  })
  return id
}
