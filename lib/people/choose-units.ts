import type { Actor } from '#lib/access/actor.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { ChooseUnitsInput } from '#lib/people/input.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'

/** Sets the units in which the acting person reads and types, in every group they belong to. */
export async function chooseUnits(
  db: Database,
  actor: Actor,
  input: ChooseUnitsInput,
): Promise<Result<{ readonly memberId: string }, PeopleRefusal>> {
  return transact<{ memberId: string }, PeopleRefusal>(db, async (tx) => {
    const { count } = await tx.login.updateMany({
      where: { members: { some: { groupId: actor.groupId, id: actor.memberId } } },
      data: { fahrenheit: input.temperature === 'F', inches: input.length === 'in' },
    })
    return count === 1 ? ok({ memberId: actor.memberId }) : refuse({ kind: 'no-account' })
  })
}
