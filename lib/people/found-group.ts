import { civilDateIn, utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result } from '#lib/kernel/result.ts'
import type { FoundGroupInput } from '#lib/people/input.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import { transact } from '#lib/platform/database/transact.ts'

export interface FoundedGroup {
  readonly groupId: string
  readonly memberId: string
}

/** Why a group was not founded: its address is another group's. */
export type FoundGroupRefusal = { readonly kind: 'slug-taken' }

function refusalOf(error: unknown): FoundGroupRefusal | null {
  const refused = databaseErrorOf(error)
  return refused?.sqlstate === '23505' && refused.constraint === 'orchard_group_slug_key'
    ? { kind: 'slug-taken' }
    : null
}

/** The login of that address, made if there is none yet. */
async function loginOf(tx: Queries, db: Database, email: string, displayName: string): Promise<string> {
  const { id } = await tx.login.upsert({
    where: { email },
    update: {},
    create: { id: db.newId(), email, displayName },
    select: { id: true },
  })
  return id
}

/**
 * Founds a group with its first organiser, in one transaction: a group without an organiser never exists. The
 * organiser gets an account if the address has none.
 */
export function foundGroup(
  db: Database,
  input: FoundGroupInput,
): Promise<Result<FoundedGroup, FoundGroupRefusal>> {
  return transact<FoundedGroup, FoundGroupRefusal>(
    db,
    async (tx) => {
      const { slug, name, timeZone, organiserEmail, organiserName } = input
      const loginId = await loginOf(tx, db, organiserEmail, organiserName)
      const groupId = db.newId()
      const memberId = db.newId()
      await tx.orchardGroup.create({
        data: { id: groupId, slug, name, timeZone, region: input.region ?? null },
      })
      await tx.member.create({
        data: {
          groupId,
          id: memberId,
          loginId,
          displayName: organiserName,
          email: organiserEmail,
          role: 'organiser',
          joinedOn: utcMidnight(civilDateIn(timeZone, db.now())),
        },
      })
      const organiser = { groupId, memberId, role: 'organiser' } as const
      await writeAudit(tx, db, organiser, { action: 'found-group', subject: `group:${groupId}` })
      return ok({ groupId, memberId })
    },
    refusalOf,
  )
}
