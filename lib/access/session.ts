import { cookies } from 'next/headers'
import { connection } from 'next/server'
import NextAuth, { getServerSession, type NextAuthOptions } from 'next-auth'
import { encode } from 'next-auth/jwt'
import CredentialsProvider from 'next-auth/providers/credentials'
import { cache } from 'react'
import { SignInWithPasswordInput } from '#lib/access/input.ts'
import { type SignedIn, signInWithPassword } from '#lib/access/sign-in-with-password.ts'
import { appDatabase } from '#lib/platform/database/app-database.ts'
import { env } from '#lib/platform/env.ts'

// Everything of next-auth is in this file; the rest of the code knows `currentLogin`, `startSession` and `endSession`.

const maxAgeSeconds = 60 * 24 * 3600

function options(): NextAuthOptions {
  return {
    secret: env().nextAuthSecret,
    session: { strategy: 'jwt', maxAge: maxAgeSeconds },
    pages: { signIn: '/sign-in', error: '/sign-in' },
    providers: [
      CredentialsProvider({
        name: 'password',
        credentials: { email: {}, password: {} },
        async authorize(credentials) {
          const input = SignInWithPasswordInput.safeParse(credentials)
          if (!input.success) return null
          const signedIn = await signInWithPassword(appDatabase(), input.data)
          return signedIn.ok
            ? { id: signedIn.value.loginId, sessionVersion: signedIn.value.sessionVersion }
            : null
        },
      }),
    ],
    callbacks: {
      jwt({ token, user }) {
        if (user && 'sessionVersion' in user) token.sessionVersion = Number(user.sessionVersion)
        return token
      },
      session({ session, token }) {
        session.loginId = token.sub ?? ''
        session.sessionVersion = token.sessionVersion
        return session
      },
    },
  }
}

/** The route handler of next-auth (session endpoint, sign-out, password sign-in for programs). */
export const nextAuthHandler: (request: Request, context: unknown) => Promise<Response> = (
  request,
  context,
) => NextAuth(options())(request, context)

const cookieName = () =>
  env().nextAuthUrl.startsWith('https://') ? '__Secure-next-auth.session-token' : 'next-auth.session-token'

/** Signs this browser in. Only in a server action or a route handler, where cookies can be set. */
export async function startSession(signedIn: SignedIn): Promise<void> {
  const token = await encode({
    token: { sub: signedIn.loginId, sessionVersion: signedIn.sessionVersion },
    secret: env().nextAuthSecret,
    maxAge: maxAgeSeconds,
  })
  const jar = await cookies()
  jar.set(cookieName(), token, {
    httpOnly: true,
    sameSite: 'lax',
    secure: env().nextAuthUrl.startsWith('https://'),
    path: '/',
    maxAge: maxAgeSeconds,
  })
}

/** Signs this browser out. */
export async function endSession(): Promise<void> {
  const jar = await cookies()
  jar.delete(cookieName())
}

export interface CurrentLogin {
  readonly loginId: string
  readonly email: string
  readonly displayName: string
  readonly hasPassword: boolean
  readonly fahrenheit: boolean
  readonly inches: boolean
}

/** Who is signed in, read anew for each request, so that a session ended elsewhere ends here too; null when nobody. */
export const currentLogin = cache(async (): Promise<CurrentLogin | null> => {
  // Pages that ask who is there are made for each visit, never at build time.
  await connection()
  const session = await getServerSession(options())
  if (!session?.loginId) return null
  const login = await appDatabase().prisma.login.findUnique({ where: { id: session.loginId } })
  if (!login || login.sessionVersion !== session.sessionVersion) return null
  return {
    loginId: login.id,
    email: login.email,
    displayName: login.displayName,
    hasPassword: login.passwordHash !== null,
    fahrenheit: login.fahrenheit,
    inches: login.inches,
  }
})
