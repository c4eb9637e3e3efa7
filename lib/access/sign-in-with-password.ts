import type { SignInWithPasswordInput } from '#lib/access/input.ts'
import { verifyPassword } from '#lib/access/password.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import type { Database } from '#lib/platform/database/database.ts'

const triesAllowed = 10
const windowMs = 15 * 60_000

export interface SignedIn {
  readonly loginId: string
  readonly sessionVersion: number
}

export type SignInRefusal =
  | { readonly kind: 'does-not-match' }
  | { readonly kind: 'too-many-tries'; readonly waitMinutes: number }

/** Checks an address and a password. After ten wrong ones in a quarter of an hour nothing is checked for a while. */
export async function signInWithPassword(
  db: Database,
  input: SignInWithPasswordInput,
): Promise<Result<SignedIn, SignInRefusal>> {
  const since = new Date(Date.now() - windowMs)
  const failures = await db.prisma.signInAttempt.count({
    where: { email: input.email, kind: 'password', at: { gte: since } },
  })
  if (failures >= triesAllowed) return refuse({ kind: 'too-many-tries', waitMinutes: windowMs / 60_000 })
  const login = await db.prisma.login.findUnique({ where: { email: input.email } })
  if (!(await verifyPassword(input.password, login?.passwordHash ?? null)) || !login) {
    await db.prisma.signInAttempt.create({ data: { id: db.newId(), email: input.email, kind: 'password' } })
    return refuse({ kind: 'does-not-match' })
  }
  await db.prisma.signInAttempt.deleteMany({ where: { email: input.email, kind: 'password' } })
  return ok({ loginId: login.id, sessionVersion: login.sessionVersion })
}
