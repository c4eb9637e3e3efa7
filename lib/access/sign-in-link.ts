import { createHash, randomBytes } from 'node:crypto'
import type { RequestLinkInput } from '#lib/access/input.ts'
import type { SignedIn } from '#lib/access/sign-in-with-password.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'

const lifetimeMinutes = 30
const linksPerHour = 5

const tokenHashOf = (token: string): string => createHash('sha256').update(token).digest('hex')

export type LinkRefusal = { readonly kind: 'too-many-links' }

async function newLink(tx: Queries, email: string, baseUrl: string, backTo: string | null): Promise<string> {
  const token = randomBytes(32).toString('base64url')
  await tx.signInToken.create({
    data: {
      tokenHash: tokenHashOf(token),
      email,
      expiresAt: new Date(Date.now() + lifetimeMinutes * 60_000),
    },
  })
  const query = new URLSearchParams({ token, ...(backTo ? { to: backTo } : {}) })
  return `${baseUrl}/sign-in/link?${query}`
}

/**
 * A sign-in link for somebody who has an account, to be handed on by whoever runs the installation: for the first
 * organiser, or when no mail arrives. It works once, for as long as a mailed one.
 *
 * @param baseUrl where this installation answers, without a slash at the end
 */
export async function signInLinkFor(
  db: Database,
  email: string,
  baseUrl: string,
): Promise<Result<{ readonly link: string; readonly minutes: number }, { readonly kind: 'no-account' }>> {
  return transact(db, async (tx) => {
    const login = await tx.login.findUnique({ where: { email }, select: { id: true } })
    if (!login) return refuse({ kind: 'no-account' as const })
    return ok({ link: await newLink(tx, email, baseUrl, null), minutes: lifetimeMinutes })
  })
}

/**
 * Mails a sign-in link to an address that has an account or an open invitation. Other addresses are answered
 * just the same and get no mail, so that nobody learns who is a member.
 *
 * @param baseUrl where this installation answers, without a slash at the end
 * @param backTo the path to go to afterwards
 */
export async function requestSignInLink(
  db: Database,
  input: RequestLinkInput,
  baseUrl: string,
  backTo: string | null,
): Promise<Result<{ readonly minutes: number }, LinkRefusal>> {
  return transact(db, async (tx) => {
    const since = new Date(Date.now() - 3_600_000)
    const asked = await tx.signInAttempt.count({
      where: { email: input.email, kind: 'link', at: { gte: since } },
    })
    if (asked >= linksPerHour) return refuse<LinkRefusal>({ kind: 'too-many-links' })
    await tx.signInAttempt.create({ data: { id: db.newId(), email: input.email, kind: 'link' } })
    const login = await tx.login.findUnique({ where: { email: input.email }, select: { id: true } })
    const invited = await tx.invitation.findFirst({
      where: { email: input.email, acceptedAt: null, revokedAt: null, expiresAt: { gt: db.now() } },
      select: { id: true },
    })
    if (login || invited) {
      const link = await newLink(tx, input.email, baseUrl, backTo)
      await tx.outboxMail.create({
        data: {
          id: db.newId(),
          toAddress: input.email,
          subject: 'Your sign-in link for Tallywood',
          body: [
            'Open this link and press the button on the page to sign in:',
            '',
            link,
            '',
            `It works once, within ${lifetimeMinutes} minutes. If you did not ask for it, do nothing.`,
          ].join('\n'),
        },
      })
    }
    return ok({ minutes: lifetimeMinutes })
  })
}

export type UseLinkRefusal = { readonly kind: 'link-is-over' }

/** Uses a sign-in link up. An invited person without an account gets one: the mail has proved the address. */
export async function useSignInLink(db: Database, token: string): Promise<Result<SignedIn, UseLinkRefusal>> {
  return transact(db, async (tx) => {
    const used = await tx.signInToken.updateManyAndReturn({
      where: { tokenHash: tokenHashOf(token), usedAt: null, expiresAt: { gt: new Date() } },
      data: { usedAt: new Date() },
    })
    const email = used[0]?.email
    if (!email) return refuse<UseLinkRefusal>({ kind: 'link-is-over' })
    const known = await tx.login.findUnique({ where: { email } })
    const login =
      known ??
      (await tx.login.create({ data: { id: db.newId(), email, displayName: email.split('@')[0] ?? email } }))
    return ok({ loginId: login.id, sessionVersion: login.sessionVersion })
  })
}
