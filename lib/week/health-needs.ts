import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { addDays, type CivilDate, civilDateIn, civilDateOf, utcMidnight } from '#lib/kernel/civil-date.ts'
import { memberAccount } from '#lib/ledger/accounts.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { Prisma } from '#lib/platform/generated/client.ts'
import type { HoldInNeed, Need } from '#lib/week/need.ts'

/** Reports of disease stay on the steward's list for so long. */
const reportDays = 30

const named = {
  variety: { select: { name: true } },
  tree: { select: { code: true, keeperId: true } },
} as const

/** Holds that concern somebody: all of them for those who place holds; else those on their trees and their sticks. */
function holdsFor(actor: Actor): Prisma.HealthHoldWhereInput {
  if (can(actor, 'place-holds')) return {}
  const mine = { holdings: { some: { account: memberAccount(actor.memberId), sticks: { gt: 0 } } } }
  return {
    OR: [
      { lot: mine },
      { limb: { tree: { keeperId: actor.memberId } } },
      { limb: { lots: { some: mine } } },
      { lot: { limb: { tree: { keeperId: actor.memberId } } } },
    ],
  }
}

async function openHolds(db: Database, actor: Actor, timeZone: string): Promise<readonly HoldInNeed[]> {
  const holds = await db.prisma.healthHold.findMany({
    where: { groupId: actor.groupId, releasedAt: null, ...holdsFor(actor) },
    include: { lot: { include: { limb: { include: named } } }, limb: { include: named } },
    orderBy: { placedAt: 'asc' },
  })
  return holds.map((hold) => {
    const limb = hold.limb ?? hold.lot?.limb
    return {
      on: hold.lot ? 'lot' : 'limb',
      code: hold.lot?.code ?? limb?.tree.code ?? '',
      varietyName: limb?.variety?.name ?? null,
      reason: hold.reason,
      placedOn: civilDateIn(timeZone, hold.placedAt),
    }
  })
}

async function diseaseReports(db: Database, actor: Actor, today: CivilDate): Promise<readonly Need[]> {
  const checks = await db.prisma.outcomeCheck.findMany({
    where: {
      groupId: actor.groupId,
      checkedOn: { gte: utcMidnight(addDays(today, -reportDays)) },
      supersededBy: { is: null },
      causes: { some: { cause: 'disease' } },
      attempt: { withdrawnAt: null },
    },
    include: {
      causes: { where: { cause: 'disease' } },
      attempt: {
        include: { variety: { select: { name: true } }, grower: { select: { displayName: true } } },
      },
    },
    orderBy: [{ checkedOn: 'desc' }, { seq: 'desc' }],
    take: 10,
  })
  return checks.map((check) => ({
    kind: 'disease-reported',
    attemptId: check.attemptId,
    varietyName: check.attempt.variety.name,
    growerName: check.attempt.grower.displayName,
    pieces: check.causes.reduce((sum, cause) => sum + cause.pieces, 0),
    seenOn: civilDateOf(check.checkedOn),
    by: null,
    isLate: false,
  }))
}

/** Open holds, and for those who place them reports that may want one. */
export async function healthNeeds(
  db: Database,
  actor: Actor,
  { today, timeZone }: { readonly today: CivilDate; readonly timeZone: string },
): Promise<readonly Need[]> {
  const holds = await openHolds(db, actor, timeZone)
  const reports = can(actor, 'place-holds') ? await diseaseReports(db, actor, today) : []
  const need = { kind: 'holds', holds, by: null, isLate: false } as const
  return holds.length > 0 ? [need, ...reports] : reports
}
