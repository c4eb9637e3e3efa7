import type { Database } from '#lib/platform/database/database.ts'

export interface DemoPerson {
  readonly displayName: string
  readonly role: string
  readonly email: string
  readonly loginId: string
  /** What there is to see as this person, in one sentence. */
  readonly about: string
}

/** Who is shown, in this order, and why. The newcomer joined days before the demo was made. */
const shown: readonly (readonly [email: string, about: string])[] = [
  [
    'nell.fairweather@marrowlane.example',
    'Runs the swaps and keeps the group fridge: everything an organiser can do.',
  ],
  ['greta.lindqvist@marrowlane.example', 'Health steward: holds, and who got which wood.'],
  ['joss.pemberley@marrowlane.example', 'Helps at the door, and writes for people without an account.'],
  [
    'wren.halloway@marrowlane.example',
    'A member who has wood from the swaps, grafts to look at, and claims to make.',
  ],
  ['saskia.molenaar@marrowlane.example', 'New this season: no trees and no grafts yet.'],
  ['idris.quayle@marrowlane.example', 'Belongs to two groups, Marrow Lane and Hollow Bank.'],
]

/** The handful of invented people that the sign-in page of the demo offers. */
export async function demoPeople(db: Database): Promise<DemoPerson[]> {
  const logins = await db.prisma.login.findMany({
    where: { email: { in: shown.map(([email]) => email) } },
    include: { members: { where: { leftOn: null }, orderBy: { joinedOn: 'asc' } } },
  })
  return shown.flatMap(([email, about]) => {
    const login = logins.find((one) => one.email === email)
    // Their first group is the one that the words are about.
    const member = login?.members[0]
    if (!login || !member) return []
    return [{ displayName: login.displayName, role: member.role, email, loginId: login.id, about }]
  })
}
