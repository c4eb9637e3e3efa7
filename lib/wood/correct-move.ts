import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { StickAccount } from '#lib/ledger/accounts.ts'
import { moveSticks, reverseMove } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { Move } from '#lib/platform/generated/client.ts'
import type { CorrectMoveInput } from '#lib/wood/input.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'

/** Moves that this command may write again with another number. */
const rewritable = ['cut', 'walk_up', 'post', 'destroy', 'lose', 'bring_back', 'arrive'] as const
type Rewritable = (typeof rewritable)[number]
const isRewritable = (kind: string): kind is Rewritable => (rewritable as readonly string[]).includes(kind)

function whyNot(move: Move): WoodRefusal | null {
  if (move.kind === 'reversal') return { kind: 'is-a-correction' }
  if (move.claimId) return { kind: 'corrected-elsewhere', where: 'claim' }
  if (move.attemptId) return { kind: 'corrected-elsewhere', where: 'attempt' }
  return null
}

/** Writes the entry again with the right number, as of the day of the first one. */
async function writeAgain(tx: Queries, db: Database, actor: Actor, move: Move, sticks: number): Promise<void> {
  if (!isRewritable(move.kind)) return
  await moveSticks(tx, {
    groupId: actor.groupId,
    id: db.newId(),
    lotId: move.lotId,
    kind: move.kind,
    from: move.fromAccount as StickAccount,
    to: move.toAccount as StickAccount,
    sticks,
    happenedAt: move.happenedAt,
    recordedBy: actor.memberId,
    onBehalfOf: move.onBehalfOfId,
    reason: move.reason,
  })
}

/**
 * Corrects an entry of the stick ledger: its mirror image is added with a reason, and, when the right number is
 * given, the entry once more with it. Nothing is written over. Whoever recorded an entry may correct it, and
 * those who keep the stores. Entries of a claim or a graft are corrected there, so that both sides still agree.
 */
export function correctMove(
  db: Database,
  actor: Actor,
  input: CorrectMoveInput,
): Promise<Result<{ code: string }, WoodRefusal>> {
  const { groupId } = actor
  return transact<{ code: string }, WoodRefusal>(
    db,
    (tx) =>
      once(tx, groupId, input.key, 'correct-move', input, async () => {
        const move = await tx.move.findUnique({
          where: { groupId_id: { groupId, id: input.moveId } },
          include: { lot: { select: { code: true } }, reversedBy: { select: { id: true } } },
        })
        if (!move) return refuse({ kind: 'not-found' })
        if (!can(actor, 'keep-stores') && move.recordedById !== actor.memberId) {
          return refuse({ kind: 'not-your-wood' })
        }
        const refusal = whyNot(move)
        if (refusal) return refuse(refusal)
        if (move.reversedBy) return refuse({ kind: 'already-reversed' })
        await reverseMove(tx, {
          groupId,
          id: db.newId(),
          moveId: move.id,
          recordedBy: actor.memberId,
          happenedAt: db.now(),
          reason: input.reason,
        })
        if (input.sticks !== undefined) await writeAgain(tx, db, actor, move, input.sticks)
        await writeAudit(tx, db, actor, {
          action: 'correct-move',
          subject: `lot:${move.lot.code}`,
          detail: { move: move.id, reason: input.reason, sticks: input.sticks ?? null },
        })
        return ok({ code: move.lot.code })
      }),
    ledgerRefusalOf,
  )
}
