import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { StickAccount } from '#lib/ledger/accounts.ts'
import { moveSticks, reverseMove, type StickMove } from '#lib/ledger/move-sticks.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { Move } from '#lib/platform/generated/client.ts'
import type { CorrectMoveInput } from '#lib/wood/input.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'

type PlainKind = StickMove['kind']
type Correctable = { readonly move: Move; readonly kind: PlainKind } | { readonly refusal: WoodRefusal }

/** Whether an entry is corrected here, and its kind if it is. */
function correctable(move: Move): Correctable {
  if (move.claimId) return { refusal: { kind: 'corrected-elsewhere', where: 'claim' } }
  if (move.attemptId) return { refusal: { kind: 'corrected-elsewhere', where: 'attempt' } }
  switch (move.kind) {
    case 'reversal':
      return { refusal: { kind: 'is-a-correction' } }
    case 'split':
      return { refusal: { kind: 'wrong-state' } }
    case 'promise':
    case 'release':
    case 'hand_over':
      return { refusal: { kind: 'corrected-elsewhere', where: 'claim' } }
    default:
      return { move, kind: move.kind }
  }
}

interface Rewriting {
  readonly tx: Queries
  readonly db: Database
  readonly actor: Actor
  readonly move: Move
  readonly kind: PlainKind
}

/** Writes the entry again with the right number, as of the day of the first one. */
async function writeAgain({ tx, db, actor, move, kind }: Rewriting, sticks: number): Promise<void> {
  await moveSticks(tx, {
    groupId: actor.groupId,
    id: db.newId(),
    lotId: move.lotId,
    kind,
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
      once<{ code: string }, WoodRefusal>(tx, groupId, input.key, 'correct-move', input, async () => {
        const move = await tx.move.findUnique({
          where: { groupId_id: { groupId, id: input.moveId } },
          include: { lot: { select: { code: true } }, reversedBy: { select: { id: true } } },
        })
        if (!move) return refuse({ kind: 'not-found' })
        if (!can(actor, 'keep-stores') && move.recordedById !== actor.memberId) {
          return refuse({ kind: 'not-your-wood' })
        }
        const entry = correctable(move)
        if ('refusal' in entry) return refuse(entry.refusal)
        if (move.reversedBy) return refuse({ kind: 'already-reversed' })
        const reverse = () =>
          reverseMove(tx, {
            groupId,
            id: db.newId(),
            moveId: move.id,
            recordedBy: actor.memberId,
            happenedAt: db.now(),
            reason: input.reason,
          })
        const rewrite = async () => {
          if (input.sticks !== undefined) await writeAgain({ tx, db, actor, ...entry }, input.sticks)
        }
        // Some of the sticks may be promised by now, so what fills the store is written before it is emptied.
        const steps = move.toAccount === 'store' ? [rewrite, reverse] : [reverse, rewrite]
        for (const step of steps) await step()
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
