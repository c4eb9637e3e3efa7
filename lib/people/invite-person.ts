import type { Actor } from '#lib/access/actor.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { civilDateIn, civilDateOf } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { dayWords } from '#lib/people/day-words.ts'
import type { InvitePersonInput } from '#lib/people/input.ts'
import { invitationDays, invitationTokenHash, newInvitationToken } from '#lib/people/invitation-token.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { env } from '#lib/platform/env.ts'

export interface Invited {
  readonly invitationId: string
  readonly email: string
  /** Known only to the call that made the invitation; null when the same form is sent again. */
  readonly token: string | null
  /** The address to open, for passing on by hand when mail does not arrive; null like the token. */
  readonly link: string | null
}

interface Letter {
  readonly email: string
  readonly groupName: string
  readonly inviterName: string
  readonly link: string
  readonly until: string
}

const body = ({ groupName, inviterName, link, until, email }: Letter) =>
  [
    `${inviterName} invites you to ${groupName}, which keeps its record of winter wood in Tallywood.`,
    '',
    'Open this link to join:',
    '',
    link,
    '',
    `It works once, until ${until}, for somebody who signs in as ${email}.`,
    'If you did not expect this, do nothing.',
  ].join('\n')

/** Why this address, or this person, is not to be invited; null when nothing speaks against it. */
async function objection(tx: Queries, actor: Actor, input: InvitePersonInput): Promise<PeopleRefusal | null> {
  const { groupId } = actor
  const member = await tx.member.findFirst({
    where: { groupId, leftOn: null, login: { email: input.email } },
  })
  if (member) return { kind: 'already-member', name: member.displayName }
  if (!input.memberId) return null
  const known = await tx.member.findFirst({ where: { groupId, id: input.memberId } })
  if (!known) return { kind: 'not-found' }
  if (known.loginId) return { kind: 'has-account', name: known.displayName }
  if (known.leftOn) return { kind: 'has-left', name: known.displayName, leftOn: civilDateOf(known.leftOn) }
  return null
}

/**
 * Invites somebody by mail. The link in the mail is the only copy of the token. Earlier open invitations to the
 * same address, or for the same person, are taken back, so that one link at a time opens the door.
 *
 * @param baseUrl where this installation answers, without a slash at the end
 */
export async function invitePerson(
  db: Database,
  actor: Actor,
  input: InvitePersonInput,
  baseUrl: string = env().nextAuthUrl,
): Promise<Result<Invited, PeopleRefusal>> {
  if (!can(actor, 'invite-people')) return refuse(notAllowed('invite-people'))
  const { groupId } = actor
  let token: string | null = null
  const answer = await transact<{ invitationId: string }, PeopleRefusal>(db, (tx) =>
    once(tx, groupId, input.key, 'invite-person', input, async () => {
      const refusal = await objection(tx, actor, input)
      if (refusal) return refuse(refusal)
      const fresh = newInvitationToken()
      const invitationId = await replaceInvitation(tx, db, actor, input, fresh)
      await writeLetter(tx, db, actor, input.email, `${baseUrl}/join/${fresh}`)
      await writeAudit(tx, db, actor, {
        action: 'invite-person',
        subject: `invitation:${invitationId}`,
        detail: { role: input.role, ...(input.memberId ? { member: input.memberId } : {}) },
      })
      token = fresh
      return ok({ invitationId })
    }),
  )
  if (!answer.ok) return answer
  const link = token === null ? null : `${baseUrl}/join/${token}`
  return ok({ invitationId: answer.value.invitationId, email: input.email, token, link })
}

const expiryOf = (db: Database) => new Date(db.now().getTime() + invitationDays * 86_400_000)

async function replaceInvitation(
  tx: Queries,
  db: Database,
  actor: Actor,
  input: InvitePersonInput,
  token: string,
): Promise<string> {
  const { groupId } = actor
  await tx.invitation.updateMany({
    where: {
      groupId,
      acceptedAt: null,
      revokedAt: null,
      OR: [{ email: input.email }, ...(input.memberId ? [{ memberId: input.memberId }] : [])],
    },
    data: { revokedAt: db.now() },
  })
  const id = db.newId()
  await tx.invitation.create({
    data: {
      groupId,
      id,
      email: input.email,
      role: input.role,
      memberId: input.memberId ?? null,
      tokenHash: invitationTokenHash(token),
      invitedById: actor.memberId,
      createdAt: db.now(),
      expiresAt: expiryOf(db),
    },
  })
  return id
}

async function writeLetter(
  tx: Queries,
  db: Database,
  actor: Actor,
  email: string,
  link: string,
): Promise<void> {
  const inviter = await tx.member.findUniqueOrThrow({
    where: { groupId_id: { groupId: actor.groupId, id: actor.memberId } },
    include: { group: true },
  })
  const until = dayWords(civilDateIn(inviter.group.timeZone, expiryOf(db)))
  const letter = { email, groupName: inviter.group.name, inviterName: inviter.displayName, link, until }
  await tx.outboxMail.create({
    data: {
      id: db.newId(),
      toAddress: email,
      subject: `${inviter.displayName} invites you to ${inviter.group.name}`,
      body: body(letter),
    },
  })
}
