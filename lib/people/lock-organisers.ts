import type { Queries } from '#lib/platform/database/database.ts'

/**
 * The members who can run the group: organisers with an account who have not left. The group's row is locked,
 * so that two organisers who step down at the same moment do not each count on the other.
 */
export async function lockOrganisers(tx: Queries, groupId: string): Promise<ReadonlySet<string>> {
  await tx.$queryRaw`select 1 from orchard_group where id = ${groupId}::uuid for update`
  const organisers = await tx.member.findMany({
    where: { groupId, role: 'organiser', leftOn: null, loginId: { not: null } },
    select: { id: true },
  })
  return new Set(organisers.map((organiser) => organiser.id))
}

/** Whether the group would have nobody to run it without this person. */
export const isLastOrganiser = (organisers: ReadonlySet<string>, memberId: string): boolean =>
  organisers.has(memberId) && organisers.size === 1
