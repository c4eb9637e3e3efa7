import type { Actor } from '#lib/access/actor.ts'
import { mayActFor, notAllowed } from '#lib/access/policy.ts'
import { formatCode } from '#lib/grafting/codes.ts'
import { utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { groupClock } from '#lib/people/group-day.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { issueCode } from '#lib/trees/issue-code.ts'
import { dayClock } from '#lib/wood/day-clock.ts'
import type { LogCuttingSessionInput, LotToCut } from '#lib/wood/input.ts'
import { isPresentMember } from '#lib/wood/present-member.ts'
import { projectWindows } from '#lib/wood/project-windows.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'

export interface LoggedSession {
  readonly sessionId: string
  /** In the order in which they were cut. */
  readonly lots: readonly { readonly lotId: string; readonly code: string }[]
}

/** The first lot whose limb or store cannot be used, as a refusal. */
async function unfitLot(
  tx: Queries,
  groupId: string,
  lots: readonly LotToCut[],
): Promise<WoodRefusal | null> {
  const limbs = await tx.limb.findMany({
    where: { groupId, id: { in: lots.map((lot) => lot.limbId) } },
    include: { tree: true, holds: { where: { releasedAt: null } } },
  })
  const stores = await tx.store.findMany({
    where: { groupId, id: { in: lots.map((lot) => lot.storeId) }, closedOn: null },
    select: { id: true },
  })
  for (const [index, wanted] of lots.entries()) {
    const lot = (wanted.at ?? index) + 1
    const limb = limbs.find(({ id }) => id === wanted.limbId)
    if (!limb) return { kind: 'no-such-limb', lot }
    const named = `limb ${limb.mark} of tree ${formatCode(limb.tree.code)}`
    if (limb.goneOn || limb.tree.goneOn) return { kind: 'limb-gone', lot, limb: named }
    const hold = limb.holds[0]
    if (hold) return { kind: 'limb-held', lot, limb: named, reason: hold.reason }
    if (!stores.some(({ id }) => id === wanted.storeId)) return { kind: 'no-such-store', lot }
  }
  return null
}

interface CutContext {
  readonly tx: Queries
  readonly db: Database
  readonly actor: Actor
  readonly input: LogCuttingSessionInput
  readonly sessionId: string
  readonly cutAt: Date
}

/** Writes one lot: its code, itself, its first stay, and its sticks into the ledger. */
async function cutLot(context: CutContext, lot: LotToCut): Promise<{ lotId: string; code: string }> {
  const { tx, db, actor, input, sessionId, cutAt } = context
  const { groupId } = actor
  const lotId = db.newId()
  const code = await issueCode(tx, db, groupId, 'lot')
  await tx.lot.create({
    data: {
      groupId,
      id: lotId,
      code,
      limbId: lot.limbId,
      sessionId,
      cutOn: utcMidnight(input.cutOn),
      kind: lot.kind,
      diameter: lot.diameter,
      budStage: lot.budStage,
      packaging: lot.packaging,
      note: lot.note ?? null,
      createdAt: db.now(),
    },
  })
  await tx.stint.create({ data: { groupId, id: db.newId(), lotId, storeId: lot.storeId, beganAt: cutAt } })
  await moveSticks(tx, {
    groupId,
    id: db.newId(),
    lotId,
    kind: 'cut',
    from: 'cut',
    to: 'store',
    sticks: lot.sticks,
    happenedAt: cutAt,
    recordedBy: actor.memberId,
    onBehalfOf: input.cutterId === actor.memberId ? null : input.cutterId,
  })
  return { lotId, code }
}

/**
 * Records one cutting session: one person, one day, one tool, and a lot for every limb that was cut, in the order
 * of the cutting. Each lot gets its code and stands in the ledger at once. Wood whose buds move already is
 * recorded all the same. Refuses a day to come, a limb that is gone or on hold, and a store that is closed.
 */
export function logCuttingSession(
  db: Database,
  actor: Actor,
  input: LogCuttingSessionInput,
): Promise<Result<LoggedSession, WoodRefusal>> {
  const { groupId } = actor
  return transact<LoggedSession, WoodRefusal>(
    db,
    (tx) =>
      once<LoggedSession, WoodRefusal>(tx, groupId, input.key, 'log-cutting-session', input, async () => {
        if (!mayActFor(actor, input.cutterId)) return refuse(notAllowed('act-for-others'))
        if (!(await isPresentMember(tx, groupId, input.cutterId))) return refuse({ kind: 'no-such-member' })
        const { timeZone, today } = await groupClock(tx, db, groupId)
        if (input.cutOn > today) return refuse({ kind: 'day-to-come', today })
        const unfit = await unfitLot(tx, groupId, input.lots)
        if (unfit) return refuse(unfit)
        const sessionId = db.newId()
        await tx.cuttingSession.create({
          data: {
            groupId,
            id: sessionId,
            cutterId: input.cutterId,
            recordedById: actor.memberId,
            cutOn: utcMidnight(input.cutOn),
            tool: input.tool ?? null,
            toolCare: input.toolCare,
            weather: input.weather ?? null,
            note: input.note ?? null,
            createdAt: db.now(),
          },
        })
        const cutAt = dayClock(timeZone).noon(input.cutOn)
        const lots: { lotId: string; code: string }[] = []
        // One after the other: the order of cutting is the order of the ledger.
        for (const lot of input.lots) lots.push(await cutLot({ tx, db, actor, input, sessionId, cutAt }, lot))
        await projectWindows(tx, db, groupId, { lotIds: lots.map(({ lotId }) => lotId) })
        await writeAudit(tx, db, actor, {
          action: 'log-cutting-session',
          subject: `session:${sessionId}`,
          onBehalfOf: input.cutterId === actor.memberId ? null : input.cutterId,
          detail: { lots: lots.map(({ code }) => code) },
        })
        return ok({ sessionId, lots })
      }),
    ledgerRefusalOf,
  )
}
