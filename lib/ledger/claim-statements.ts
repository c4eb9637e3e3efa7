import type { QueryConfig } from 'pg'
import { ok, type Result } from '#lib/kernel/result.ts'
import { askLedger } from '#lib/ledger/ask-ledger.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'
import type { Database } from '#lib/platform/database/database.ts'

export interface ClaimAnswer {
  readonly claimId: string
  readonly sticks: number
  /** True when the same request had been answered before, and nothing was changed by this one. */
  readonly replayed: boolean
}

/** Promises shares of an offering to a member. */
export async function claimShares(
  db: Database,
  claim: {
    readonly groupId: string
    readonly offeringId: string
    readonly memberId: string
    readonly recordedBy: string
    readonly shares: number
    readonly purpose: string | null
    readonly key: string
    readonly hash: string
  },
): Promise<Result<ClaimAnswer & { readonly sharesLeft: number }, LedgerRefusal>> {
  const answer = await askLedger<{
    claim_id: string
    claim_sticks: number
    shares_left: number
    replayed: boolean
  }>(db, {
    name: 'claim-shares',
    text: 'select * from claim_shares($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)',
    values: [
      claim.groupId,
      db.newId(),
      db.newId(),
      claim.offeringId,
      claim.memberId,
      claim.recordedBy,
      claim.shares,
      claim.purpose,
      db.now(),
      claim.key,
      claim.hash,
    ],
  })
  if (!answer.ok) return answer
  const row = answer.value
  return ok({
    claimId: row.claim_id,
    sticks: row.claim_sticks,
    sharesLeft: row.shares_left,
    replayed: row.replayed,
  })
}

/** What the three commands on a standing claim have in common. */
export interface ClaimChange {
  readonly groupId: string
  readonly claimId: string
  readonly recordedBy: string
  readonly key: string
  readonly hash: string
}

async function changeClaim(
  db: Database,
  statement: QueryConfig,
): Promise<Result<ClaimAnswer, LedgerRefusal>> {
  const answer = await askLedger<{ claim_id: string; sticks: number; replayed: boolean }>(db, statement)
  if (!answer.ok) return answer
  const { claim_id: claimId, sticks, replayed } = answer.value
  return ok({ claimId, sticks, replayed })
}

/** Gives a promised claim back to the table. */
export const cancelClaim = (db: Database, change: ClaimChange & { readonly reason: string | null }) =>
  changeClaim(db, {
    name: 'cancel-claim',
    text: 'select claim_id, claim_sticks as sticks, replayed from cancel_claim($1, $2, $3, $4, $5, $6, $7, $8)',
    values: [
      change.groupId,
      change.claimId,
      db.newId(),
      change.recordedBy,
      db.now(),
      change.reason,
      change.key,
      change.hash,
    ],
  })

/** Hands over some or all sticks of a claim; the rest goes back to the store. */
export const handOverClaim = (db: Database, change: ClaimChange & { readonly sticks: number }) =>
  changeClaim(db, {
    name: 'hand-over-claim',
    text: `select claim_id, handed_sticks as sticks, replayed
      from hand_over_claim($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
    values: [
      change.groupId,
      change.claimId,
      db.newId(),
      db.newId(),
      change.recordedBy,
      change.sticks,
      db.now(),
      change.key,
      change.hash,
    ],
  })

/** Takes a hand-over back: the sticks are promised again. */
export const undoHandOver = (db: Database, change: ClaimChange & { readonly reason: string }) =>
  changeClaim(db, {
    name: 'undo-hand-over',
    text: 'select claim_id, claim_sticks as sticks, replayed from undo_hand_over($1, $2, $3, $4, $5, $6, $7, $8)',
    values: [
      change.groupId,
      change.claimId,
      db.newId(),
      change.recordedBy,
      db.now(),
      change.reason,
      change.key,
      change.hash,
    ],
  })

/** Changes how many shares a standing claim is for, in one step. */
export async function changeClaimShares(
  db: Database,
  change: ClaimChange & { readonly shares: number },
): Promise<Result<ClaimAnswer & { readonly sharesLeft: number }, LedgerRefusal>> {
  const answer = await askLedger<{ sticks: number; shares_left: number; replayed: boolean }>(db, {
    name: 'change-claim',
    text: `select claim_sticks as sticks, shares_left, replayed from change_claim($1, $2, $3, $4, $5, $6, $7, $8)`,
    values: [
      change.groupId,
      change.claimId,
      db.newId(),
      change.recordedBy,
      change.shares,
      db.now(),
      change.key,
      change.hash,
    ],
  })
  if (!answer.ok) return answer
  const { sticks, shares_left: sharesLeft, replayed } = answer.value
  return ok({ claimId: change.claimId, sticks, sharesLeft, replayed })
}
