import type { Database } from '#lib/platform/database/database.ts'

export interface DemoPerson {
  readonly displayName: string
  readonly role: string
  readonly email: string
  readonly loginId: string
  readonly about: string
}

/** The handful of invented people that the sign-in page of the demo offers. */
export async function demoPeople(db: Database): Promise<DemoPerson[]> {
  const members = await db.prisma.member.findMany({
    where: { loginId: { not: null }, leftOn: null },
    include: { login: true, group: true },
    orderBy: { joinedOn: 'asc' },
    take: 6,
  })
  return members.flatMap(({ login, displayName, role, group }) =>
    login ? [{ displayName, role, email: login.email, loginId: login.id, about: group.name }] : [],
  )
}
