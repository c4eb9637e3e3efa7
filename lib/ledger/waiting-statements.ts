import { ok, type Result } from '#lib/kernel/result.ts'
import { askLedger } from '#lib/ledger/ask-ledger.ts'
import type { ClaimAnswer } from '#lib/ledger/claim-statements.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'

/** What the commands on a place in the waiting list have in common. */
interface PlaceChange {
  readonly groupId: string
  readonly waitingId: string
  readonly recordedBy: string
  readonly key: string
  readonly hash: string
}

export interface PlaceInLine {
  readonly waitingId: string
  /** 1 for the first in line. */
  readonly place: number
  readonly replayed: boolean
}

/** Puts a member at the end of the line for a lot of which no share is free. */
export async function joinWaiting(
  db: Database,
  wish: {
    readonly groupId: string
    readonly offeringId: string
    readonly memberId: string
    readonly recordedBy: string
    readonly shares: number
    readonly purpose: string | null
    readonly key: string
    readonly hash: string
  },
): Promise<Result<PlaceInLine, LedgerRefusal>> {
  const answer = await askLedger<{ waiting_id: string; place: number; replayed: boolean }>(db, {
    name: 'join-waiting',
    text: 'select * from join_waiting($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)',
    values: [
      wish.groupId,
      db.newId(),
      wish.offeringId,
      wish.memberId,
      wish.recordedBy,
      wish.shares,
      wish.purpose,
      db.now(),
      wish.key,
      wish.hash,
    ],
  })
  if (!answer.ok) return answer
  const { waiting_id: waitingId, place, replayed } = answer.value
  return ok({ waitingId, place, replayed })
}

/** Takes the shares that were offered to somebody who waited. */
export async function acceptWaiting(
  db: Database,
  change: PlaceChange,
): Promise<Result<ClaimAnswer, LedgerRefusal>> {
  const answer = await askLedger<{ claim_id: string; claim_sticks: number; replayed: boolean }>(db, {
    name: 'accept-waiting',
    text: 'select * from accept_waiting($1, $2, $3, $4, $5, $6, $7, $8)',
    values: [
      change.groupId,
      change.waitingId,
      db.newId(),
      db.newId(),
      change.recordedBy,
      db.now(),
      change.key,
      change.hash,
    ],
  })
  if (!answer.ok) return answer
  const { claim_id: claimId, claim_sticks: sticks, replayed } = answer.value
  return ok({ claimId, sticks, replayed })
}

export interface LeftPlace {
  readonly waitingId: string
  /** True when an offer was declined by it. */
  readonly wasOffered: boolean
  readonly replayed: boolean
}

/** Leaves the line, or declines what was offered. */
export async function leaveWaiting(
  db: Database,
  change: PlaceChange,
): Promise<Result<LeftPlace, LedgerRefusal>> {
  const answer = await askLedger<{ was_offered: boolean; replayed: boolean }>(db, {
    name: 'leave-waiting',
    text: 'select was_offered, replayed from leave_waiting($1, $2, $3, $4, $5, $6, $7)',
    values: [
      change.groupId,
      change.waitingId,
      db.newId(),
      change.recordedBy,
      db.now(),
      change.key,
      change.hash,
    ],
  })
  if (!answer.ok) return answer
  const { was_offered: wasOffered, replayed } = answer.value
  return ok({ waitingId: change.waitingId, wasOffered, replayed })
}

export interface ReleasedNoShows {
  readonly claims: number
  readonly sticks: number
  readonly replayed: boolean
}

/** Takes back what nobody fetched of a swap by its stated time. */
export const releaseNoShowsOf = (
  db: Database,
  swap: {
    readonly groupId: string
    readonly swapId: string
    readonly recordedBy: string
    readonly key: string
    readonly hash: string
  },
): Promise<Result<ReleasedNoShows, LedgerRefusal>> =>
  askLedger<{ claims: number; sticks: number; replayed: boolean }>(db, {
    name: 'release-no-shows',
    text: 'select * from release_no_shows($1, $2, $3, $4, $5, $6)',
    values: [swap.groupId, swap.swapId, swap.recordedBy, db.now(), swap.key, swap.hash],
  })

/** Asks those who wait for a swap's lots, or for one of them, inside the caller's transaction. Harmless when repeated. */
export async function serveWaiting(
  tx: Queries,
  swap: {
    readonly groupId: string
    readonly swapId: string
    readonly offeringId?: string
    readonly now: Date
  },
): Promise<void> {
  await tx.$queryRaw`
    select serve_waiting(${swap.groupId}::uuid, ${swap.swapId}::uuid, ${swap.offeringId ?? null}::uuid,
      ${swap.now}::timestamptz)`
}
