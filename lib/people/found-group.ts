import { civilDateIn, utcMidnight } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import { transact } from '#lib/platform/database/transact.ts'

export interface FoundGroupInput {
  /** The login of the person who becomes the first organiser. */
  readonly loginId: string
  /** The group's part of the address: small letters, digits and single hyphens. */
  readonly slug: string
  readonly name: string
  /** IANA, such as Europe/London. */
  readonly timeZone: string
  /** ISO 3166-2, such as GB-ENG. */
  readonly region?: string
  /** What the group calls its organiser. */
  readonly organiserName: string
}

export interface FoundedGroup {
  readonly groupId: string
  readonly memberId: string
}

/** Why a group was not founded: its address is another group's, or nobody has that login. */
export type FoundGroupRefusal = { readonly kind: 'slug-taken' } | { readonly kind: 'not-found' }

function refusalOf(error: unknown): FoundGroupRefusal | null {
  const refused = databaseErrorOf(error)
  return refused?.sqlstate === '23505' && refused.constraint === 'orchard_group_slug_key'
    ? { kind: 'slug-taken' }
    : null
}

/** Founds a group with its first organiser, in one transaction: a group without an organiser never exists. */
export function foundGroup(
  db: Database,
  input: FoundGroupInput,
): Promise<Result<FoundedGroup, FoundGroupRefusal>> {
  return transact<FoundedGroup, FoundGroupRefusal>(
    db,
    async (tx) => {
      const login = await tx.login.findUnique({ where: { id: input.loginId }, select: { email: true } })
      if (!login) return refuse({ kind: 'not-found' })
      const groupId = db.newId()
      const memberId = db.newId()
      const { slug, name, timeZone } = input
      await tx.orchardGroup.create({
        data: { id: groupId, slug, name, timeZone, region: input.region ?? null },
      })
      await tx.member.create({
        data: {
          groupId,
          id: memberId,
          loginId: input.loginId,
          displayName: input.organiserName,
          email: login.email,
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
