import { notFound, redirect } from 'next/navigation'
import { connection } from 'next/server'
import { cache } from 'react'
import type { Actor, Role } from '#lib/access/actor.ts'
import { type CurrentLogin, currentLogin } from '#lib/access/session.ts'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import { appDatabase } from '#lib/platform/database/app-database.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { type Installation, readInstallation } from '#lib/platform/database/installation.ts'
import { env } from '#lib/platform/env.ts'

export interface MemberContext {
  readonly db: Database
  readonly actor: Actor
  readonly group: {
    readonly id: string
    readonly slug: string
    readonly name: string
    readonly timeZone: string
    readonly region: string | null
    readonly allowsVitis: boolean
    /** September to August, as it is said: "2026–27". */
    readonly season: string
  }
  readonly person: {
    readonly displayName: string
    readonly role: Role
    readonly fahrenheit: boolean
    readonly inches: boolean
  }
  /** The day that the clock on the group's wall shows. */
  readonly today: CivilDate
}

/** The season that a day falls in, named by its two years. */
function seasonOf(day: CivilDate): string {
  const year = Number(day.slice(0, 4)) - (day.slice(5) < '09-01' ? 1 : 0)
  return `${year}–${String((year + 1) % 100).padStart(2, '0')}`
}

/** The database without an actor: for what anybody may do, such as signing in. */
export const publicContext = (): { readonly db: Database; readonly baseUrl: string } => ({
  db: appDatabase(),
  baseUrl: env().nextAuthUrl.replace(/\/$/, ''),
})

/** What kind of installation this is. */
export const installation = cache(async (): Promise<Installation> => {
  await connection()
  return readInstallation(appDatabase().pool)
})

/** Who is signed in; sends everybody else to sign in and come back to `backTo`. */
export async function loginContext(
  backTo: string,
): Promise<{ readonly db: Database; readonly login: CurrentLogin; readonly baseUrl: string }> {
  const login = await currentLogin()
  if (!login) redirect(`/sign-in?to=${encodeURIComponent(backTo)}`)
  return { ...publicContext(), login }
}

/**
 * The signed-in person as a member of the group in the address: the only way for a page to a database handle
 * with an actor. Somebody who is not a member learns no more than that the page is not there.
 */
export const memberContext = cache(async (slug: string): Promise<MemberContext> => {
  const { db, login } = await loginContext(`/g/${slug}`)
  const member = await db.prisma.member.findFirst({
    where: { loginId: login.loginId, leftOn: null, group: { slug } },
    include: { group: true },
  })
  if (!member) notFound()
  const today = civilDateIn(member.group.timeZone, db.now())
  return {
    db,
    actor: { groupId: member.groupId, memberId: member.id, role: member.role },
    group: {
      id: member.groupId,
      slug: member.group.slug,
      name: member.group.name,
      timeZone: member.group.timeZone,
      region: member.group.region,
      allowsVitis: member.group.allowsVitis,
      season: seasonOf(today),
    },
    person: {
      displayName: member.displayName,
      role: member.role,
      fahrenheit: login.fahrenheit,
      inches: login.inches,
    },
    today,
  }
})
