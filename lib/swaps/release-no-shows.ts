import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { type Result, refuse } from '#lib/kernel/result.ts'
import { type ReleasedNoShows, releaseNoShowsOf } from '#lib/ledger/waiting-statements.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import type { ReleaseNoShowsInput } from '#lib/swaps/input.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

/**
 * Takes back what nobody fetched, from the time on that the swap states: each claim with its entry in the ledger.
 * The server does it by itself at that time, once; this is for what was promised again afterwards.
 */
export async function releaseNoShows(
  db: Database,
  actor: Actor,
  input: ReleaseNoShowsInput,
): Promise<Result<ReleasedNoShows, SwapsRefusal>> {
  if (!can(actor, 'run-swaps')) return refuse(notAllowed('run-swaps'))
  const { swapId } = input
  return releaseNoShowsOf(db, {
    groupId: actor.groupId,
    swapId,
    recordedBy: actor.memberId,
    key: input.key,
    hash: inputHash({ swapId }),
  })
}
