import type { SetPasswordInput } from '#lib/access/input.ts'
import { hashPassword } from '#lib/access/password.ts'
import type { SignedIn } from '#lib/access/sign-in-with-password.ts'
import type { Database } from '#lib/platform/database/database.ts'

/** Sets the password of a login and ends every other session of it. */
export async function setPassword(db: Database, loginId: string, input: SetPasswordInput): Promise<SignedIn> {
  const passwordHash = await hashPassword(input.password)
  const login = await db.prisma.login.update({
    where: { id: loginId },
    data: { passwordHash, sessionVersion: { increment: 1 } },
  })
  return { loginId, sessionVersion: login.sessionVersion }
}

/** Ends every session of a login, this one included. */
export async function endAllSessions(db: Database, loginId: string): Promise<void> {
  await db.prisma.login.update({ where: { id: loginId }, data: { sessionVersion: { increment: 1 } } })
}
