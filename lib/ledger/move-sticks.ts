import type { StickAccount } from '#lib/ledger/accounts.ts'
import type { Queries } from '#lib/platform/database/database.ts'
import type { MoveKind } from '#lib/platform/generated/enums.ts'

export interface StickMove {
  readonly groupId: string
  readonly id: string
  readonly lotId: string
  readonly kind: Exclude<MoveKind, 'promise' | 'release' | 'hand_over' | 'reversal' | 'split'>
  readonly from: StickAccount
  readonly to: StickAccount
  readonly sticks: number
  readonly happenedAt: Date
  readonly recordedBy: string
  readonly onBehalfOf?: string | null
  readonly reason?: string | null
  readonly attemptId?: string | null
}

/**
 * Moves sticks of a lot from one account to another, inside the caller's transaction.
 * Throws the database's refusal (see `ledgerRefusalOf`) when there are not that many.
 *
 * @returns what is left on the account that they came from.
 */
export async function moveSticks(tx: Queries, move: StickMove): Promise<number> {
  const rows = await tx.$queryRaw<{ left: number }[]>`
    select move_sticks(
      ${move.groupId}::uuid, ${move.id}::uuid, ${move.lotId}::uuid, ${move.kind}::move_kind, ${move.from}::text,
      ${move.to}::text, ${move.sticks}::int, ${move.happenedAt}::timestamptz, ${move.recordedBy}::uuid,
      ${move.onBehalfOf ?? null}::uuid, ${move.reason ?? null}::text, ${move.attemptId ?? null}::uuid) as left`
  return rows[0]?.left ?? 0
}

/** Corrects a move that belongs to no claim, once, by its mirror image. The reason is kept with it. */
export async function reverseMove(
  tx: Queries,
  reversal: {
    readonly groupId: string
    readonly id: string
    readonly moveId: string
    readonly recordedBy: string
    readonly happenedAt: Date
    readonly reason: string
  },
): Promise<void> {
  await tx.$queryRaw`
    select reverse_move(${reversal.groupId}::uuid, ${reversal.id}::uuid, ${reversal.moveId}::uuid,
      ${reversal.recordedBy}::uuid, ${reversal.happenedAt}::timestamptz, ${reversal.reason}::text)`
}

/** Makes a part of a lot a lot of its own, inside the caller's transaction; answers what is left free in the old one. */
export async function splitSticks(
  tx: Queries,
  split: {
    readonly groupId: string
    readonly lotId: string
    readonly newLotId: string
    readonly code: string
    readonly storeId: string
    readonly stintId: string
    readonly sticks: number
    readonly at: Date
    readonly recordedBy: string
    readonly moveId: string
    readonly newMoveId: string
    readonly reason: string | null
  },
): Promise<number> {
  const rows = await tx.$queryRaw<{ left: number }[]>`
    select split_lot(${split.groupId}::uuid, ${split.lotId}::uuid, ${split.newLotId}::uuid, ${split.code}::text,
      ${split.storeId}::uuid, ${split.stintId}::uuid, ${split.sticks}::int, ${split.at}::timestamptz,
      ${split.recordedBy}::uuid, ${split.moveId}::uuid, ${split.newMoveId}::uuid, ${split.reason}::text) as left`
  return rows[0]?.left ?? 0
}
