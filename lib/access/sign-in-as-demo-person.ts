import type { SignedIn } from '#lib/access/sign-in-with-password.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { readInstallation } from '#lib/platform/database/installation.ts'

/**
 * Signs in without a secret, as one of the invented people of the demo world. Null over any other database,
 * and for a login that is not among `offered`.
 */
export async function signInAsDemoPerson(
  db: Database,
  loginId: string,
  offered: readonly { readonly loginId: string }[],
): Promise<SignedIn | null> {
  const { isDemo } = await readInstallation(db.pool)
  if (!isDemo || !offered.some((person) => person.loginId === loginId)) return null
  const login = await db.prisma.login.findUnique({ where: { id: loginId } })
  return login && { loginId, sessionVersion: login.sessionVersion }
}
