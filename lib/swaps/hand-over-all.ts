import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { inputHash, once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import type { HandOverAllInput } from '#lib/swaps/day-input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

export interface HandedOverAll {
  readonly claims: number
  readonly sticks: number
  /** Claims of wood on hold, which stay where they are. */
  readonly held: number
}

interface WaitingClaim {
  readonly id: string
  readonly sticks: number
  readonly isHeld: boolean
}

// In the order of their ids: of two helpers who press at once the second waits at the first claim, and does not cross.
const waitingClaims = (tx: Queries, groupId: string, input: HandOverAllInput) => tx.$queryRaw<WaitingClaim[]>`
  select k.id, k.sticks, exists (select 1 from health_hold h where h.group_id = l.group_id and h.released_at is null
      and (h.lot_id = l.id or h.limb_id = l.limb_id)) as "isHeld"
    from claim k join lot l on l.group_id = k.group_id and l.id = k.lot_id
    where k.group_id = ${groupId}::uuid and k.swap_id = ${input.swapId}::uuid
      and k.member_id = ${input.memberId}::uuid and k.status = 'promised'
    order by k.id`

/**
 * Hands over everything that waits for a person, each claim with its own entry in the ledger, all or nothing. Wood on
 * hold stays. What another helper handed over meanwhile is not handed over again.
 */
export async function handOverAll(
  db: Database,
  actor: Actor,
  input: HandOverAllInput,
): Promise<Result<HandedOverAll, SwapsRefusal>> {
  if (!can(actor, 'hand-over')) return refuse(notAllowed('hand-over'))
  const { groupId } = actor
  return transact<HandedOverAll, SwapsRefusal>(
    db,
    (tx) =>
      once<HandedOverAll, SwapsRefusal>(tx, groupId, input.key, 'hand-over-all', input, async () => {
        const claims = await waitingClaims(tx, groupId, input)
        const given = claims.filter(({ isHeld }) => !isHeld)
        for (const { id, sticks } of given) {
          await tx.$queryRaw`
            select claim_id from hand_over_claim(
              ${groupId}::uuid, ${id}::uuid, ${db.newId()}::uuid, ${db.newId()}::uuid, ${actor.memberId}::uuid,
              ${sticks}::int, ${db.now()}::timestamptz, ${db.newId()}::uuid, ${inputHash({ all: id })}::text)`
        }
        return ok({
          claims: given.length,
          sticks: given.reduce((sum, { sticks }) => sum + sticks, 0),
          held: claims.length - given.length,
        })
      }),
    ledgerRefusalOf,
  )
}
