import type { CheckpointKey } from '#lib/grafting/checkpoints.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { env } from '#lib/platform/env.ts'
import { makeToken, readToken, tokenHashOf } from '#lib/platform/secret-token.ts'

/** A link answers for so many days from the first mail on. */
const answersForDays = 60

/** What signs the tokens of this installation. */
export const installationSecret = (): string => env().nextAuthSecret

export interface LinkOf {
  readonly groupId: string
  readonly attemptId: string
  readonly checkpoint: CheckpointKey
  readonly memberId: string
}

export interface CheckLink {
  readonly token: string
  readonly expiresAt: Date
}

/** The link of a person, a batch and a look; the second reminder carries that of the first. */
export async function checkLinkFor(
  tx: Queries,
  db: Database,
  of: LinkOf,
  secret: string,
): Promise<CheckLink> {
  const { groupId, attemptId, checkpoint, memberId } = of
  const known = await tx.checkLink.findUnique({
    where: {
      groupId_attemptId_checkpoint_memberId: { groupId, attemptId, checkpoint, memberId },
    },
    select: { id: true, expiresAt: true },
  })
  if (known) return { token: makeToken(secret, 'answer', [groupId, known.id]), expiresAt: known.expiresAt }
  const id = db.newId()
  const token = makeToken(secret, 'answer', [groupId, id])
  const createdAt = db.now()
  const expiresAt = new Date(createdAt.getTime() + answersForDays * 86_400_000)
  await tx.checkLink.create({
    data: {
      groupId,
      id,
      attemptId,
      checkpoint,
      memberId,
      tokenHash: tokenHashOf(token),
      createdAt,
      expiresAt,
    },
  })
  return { token, expiresAt }
}

/** The link of a token with its batch; null when this installation did not sign it, or it is gone. */
export async function findCheckLink(tx: Queries, token: string, secret: string) {
  if (readToken(secret, 'answer', token) === null) return null
  return tx.checkLink.findUnique({
    where: { tokenHash: tokenHashOf(token) },
    include: {
      member: {
        select: { displayName: true, leftOn: true, group: { select: { name: true, timeZone: true } } },
      },
      attempt: {
        select: {
          method: true,
          madeOn: true,
          pieces: true,
          stock: true,
          withdrawnAt: true,
          variety: { select: { name: true, taxon: { select: { commonName: true } } } },
          hostTree: { select: { code: true } },
          checks: {
            select: {
              id: true,
              linkId: true,
              supersedesId: true,
              checkedOn: true,
              alive: true,
              dead: true,
              unknown: true,
              unknownWhy: true,
              state: true,
              note: true,
            },
          },
        },
      },
    },
  })
}

export type FoundLink = NonNullable<Awaited<ReturnType<typeof findCheckLink>>>

/** The answer given through a link, as it stands after every correction of it; null while there is none. */
export function answerThrough(link: FoundLink): FoundLink['attempt']['checks'][number] | null {
  const { checks } = link.attempt
  let standing = checks.find((check) => check.linkId === link.id) ?? null
  for (let next = standing; next !== null; ) {
    standing = next
    const corrected = next.id
    next = checks.find((check) => check.supersedesId === corrected) ?? null
  }
  return standing
}
