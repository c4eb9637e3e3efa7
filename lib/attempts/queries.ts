import type { Actor } from '#lib/access/actor.ts'
import { mayActFor } from '#lib/access/policy.ts'
import { hemisphereOf } from '#lib/attempts/hemisphere.ts'
import { isTheirsToChange } from '#lib/attempts/lock-attempt.ts'
import { type Look, looksOf, nextLook } from '#lib/attempts/next-look.ts'
import { standingCheck } from '#lib/attempts/standing-check.ts'
import type { AttemptDetail, AttemptView, CheckView, ReceivedWood } from '#lib/attempts/view.ts'
import { lotInHand, woodInHand } from '#lib/attempts/wood-in-hand.ts'
import { wraps } from '#lib/grafting/care-schedule.ts'
import { failureCauses } from '#lib/grafting/failure-causes.ts'
import { findMethod } from '#lib/grafting/methods.ts'
import { type CivilDate, civilDateOf } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { memberAccount } from '#lib/ledger/accounts.ts'
import { groupClock } from '#lib/people/group-day.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { Prisma } from '#lib/platform/generated/client.ts'

const withRelations = {
  variety: { select: { name: true, taxon: { select: { commonName: true } } } },
  lot: { select: { id: true, code: true, cutOn: true, limbId: true } },
  hostTree: { select: { code: true } },
  hostLimb: { select: { mark: true } },
  grower: { select: { id: true, displayName: true } },
  checks: {
    include: {
      causes: true,
      photos: { where: { removedAt: null }, orderBy: { addedAt: 'asc' } },
      recordedBy: { select: { displayName: true } },
      supersededBy: { select: { id: true } },
    },
    orderBy: [{ checkedOn: 'desc' }, { seq: 'desc' }],
  },
} satisfies Prisma.AttemptInclude

type AttemptRow = Prisma.AttemptGetPayload<{ include: typeof withRelations }>

const causeLabel = (key: string) => failureCauses.find((cause) => cause.key === key)?.label ?? key

const checkView = (check: AttemptRow['checks'][number]): CheckView => ({
  id: check.id,
  checkedOn: civilDateOf(check.checkedOn),
  seq: Number(check.seq),
  alive: check.alive,
  dead: check.dead,
  unknown: check.unknown,
  unknownWhy: check.unknownWhy,
  checkpoint: check.checkpoint,
  state: check.state,
  isByLink: check.linkId !== null,
  photos: check.photos.map(({ id, width, height }) => ({ id, width, height })),
  note: check.note,
  recordedBy: check.recordedBy.displayName,
  causes: check.causes.map(({ cause, pieces, words }) => ({
    cause,
    label: words ?? causeLabel(cause),
    pieces,
  })),
  isCorrected: check.supersededBy !== null,
  correctsId: check.supersedesId,
})

/** What the plan of looks goes by. */
interface GroupClock {
  readonly today: CivilDate
  readonly timeZone: string
}

function attemptView(
  row: AttemptRow,
  { today, timeZone }: GroupClock,
): AttemptView & { readonly checks: readonly CheckView[] } {
  const checks = row.checks.map(checkView)
  const standing = standingCheck(checks)
  const method = findMethod(row.method)
  const madeOn = civilDateOf(row.madeOn)
  const looks = looksOf(
    {
      method: row.method,
      madeOn,
      hemisphere: hemisphereOf(timeZone),
      looks: checks
        .filter((check) => !check.isCorrected)
        .map(({ checkedOn, checkpoint, state }) => ({ on: checkedOn, checkpoint, state })),
      isAnyAlive: standing === null || standing.alive > 0,
    },
    today,
  )
  return {
    id: row.id,
    varietyId: row.varietyId,
    varietyName: row.variety.name,
    commonName: row.variety.taxon.commonName,
    method: {
      key: row.method,
      name: method?.name ?? row.method,
      kind: method?.kind ?? 'graft',
      successWord: method?.successWord ?? 'took',
    },
    treatment: row.treatment,
    stock: row.stock,
    hostTreeCode: row.hostTree?.code ?? null,
    hostLimbMark: row.hostLimb?.mark ?? null,
    wrap: wraps.find(({ key }) => key === row.wrap)?.key ?? null,
    lot: row.lot && { id: row.lot.id, code: row.lot.code, cutOn: civilDateOf(row.lot.cutOn) },
    grower: { id: row.grower.id, name: row.grower.displayName },
    madeOn,
    pieces: row.pieces,
    sticksUsed: row.sticksUsed,
    withdrawn: row.withdrawReason === null ? null : { reason: row.withdrawReason },
    standing,
    looks: row.withdrawnAt === null ? looks : [],
    checks,
  }
}

/** As many entries as a page lists. */
const mostListed = 300

/**
 * The attempts of one grower, the newest first; without one, those of the actor. Somebody else's are listed only
 * to those who act for others.
 */
export async function listAttempts(
  db: Database,
  actor: Actor,
  options: { readonly growerId?: string } = {},
): Promise<readonly AttemptView[]> {
  const growerId = options.growerId ?? actor.memberId
  if (!mayActFor(actor, growerId)) return []
  const clock = await groupClock(db.prisma, db, actor.groupId)
  const rows = await db.prisma.attempt.findMany({
    where: { groupId: actor.groupId, growerId },
    include: withRelations,
    orderBy: [{ madeOn: 'desc' }, { id: 'desc' }],
    take: mostListed,
  })
  return rows.map((row) => attemptView(row, clock))
}

/** One attempt with its looks; null when it is not in the actor's group or not the actor's to see. */
export async function getAttempt(
  db: Database,
  actor: Actor,
  attemptId: string,
): Promise<AttemptDetail | null> {
  if (!isUuid(attemptId)) return null
  const { groupId } = actor
  const row = await db.prisma.attempt.findUnique({
    where: { groupId_id: { groupId, id: attemptId } },
    include: {
      ...withRelations,
      recordedBy: { select: { displayName: true } },
      fromLimb: { select: { mark: true, tree: { select: { code: true } } } },
      limbs: { select: { mark: true, tree: { select: { code: true } } } },
    },
  })
  if (!row || !isTheirsToChange(actor, row)) return null
  const clock = await groupClock(db.prisma, db, groupId)
  const limbId = row.lot?.limbId ?? row.fromLimbId
  const onWood = [...(row.lotId ? [{ lotId: row.lotId }] : []), ...(limbId ? [{ limbId }] : [])]
  const hold =
    onWood.length > 0 &&
    (await db.prisma.healthHold.findFirst({ where: { groupId, releasedAt: null, OR: onWood } }))
  return {
    ...attemptView(row, clock),
    nodes: row.nodes,
    bottomHeatC: row.bottomHeatC === null ? null : Number(row.bottomHeatC),
    hormone: row.hormone,
    batch:
      row.batchId !== null && row.batchPlace !== null
        ? {
            place: row.batchPlace,
            of: await db.prisma.attempt.count({ where: { groupId, batchId: row.batchId } }),
          }
        : null,
    note: row.note,
    skill: row.skill,
    recordedBy: row.recordedBy.displayName,
    recordedAt: row.createdAt,
    ownLimb: row.fromLimb && { treeCode: row.fromLimb.tree.code, mark: row.fromLimb.mark },
    limbs: row.limbs.map((limb) => ({ treeCode: limb.tree.code, mark: limb.mark })),
    isHeld: Boolean(hold),
    mayChange: isTheirsToChange(actor, row),
  }
}

/** What a member received and has not used yet, the oldest wood first. */
export async function receivedWood(
  db: Database,
  actor: Actor,
  memberId: string = actor.memberId,
): Promise<readonly ReceivedWood[]> {
  if (!mayActFor(actor, memberId)) return []
  const { groupId } = actor
  const rows = await db.prisma.holding.findMany({
    where: { groupId, account: memberAccount(memberId), sticks: { gt: 0 } },
    include: { lot: { include: lotInHand } },
    orderBy: [{ lot: { cutOn: 'asc' } }, { lotId: 'asc' }],
  })
  return rows.map(({ lot, sticks }) => woodInHand(lot, sticks))
}

/** An attempt with the look that it asks for now. */
export interface DueCheck {
  readonly attempt: AttemptView
  readonly look: Look
}

/** A grower's attempts whose next look is due, the longest overdue first. */
export async function checksDue(
  db: Database,
  actor: Actor,
  options: { readonly growerId?: string } = {},
): Promise<readonly DueCheck[]> {
  return dueAmong(await listAttempts(db, actor, options))
}

/** Of these attempts, those whose next look is due, the longest overdue first. */
export function dueAmong(attempts: readonly AttemptView[]): readonly DueCheck[] {
  return attempts
    .flatMap((attempt) => {
      const look = nextLook(attempt.looks)
      return look && look.state !== 'next' ? [{ attempt, look }] : []
    })
    .sort((a, b) => (a.look.on < b.look.on ? -1 : a.look.on > b.look.on ? 1 : 0))
}
