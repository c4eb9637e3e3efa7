import type { Queries } from '#lib/platform/database/database.ts'

/** Whether somebody is a member of the group now. */
export async function isPresentMember(tx: Queries, groupId: string, memberId: string): Promise<boolean> {
  return (await tx.member.count({ where: { groupId, id: memberId, leftOn: null } })) === 1
}
