import type { Queries } from '#lib/platform/database/database.ts'

/** Keeps the swap of an offering as it is until the transaction ends: everybody locks the swap first, then its lots. */
export async function lockSwapOfOffering(tx: Queries, groupId: string, offeringId: string): Promise<void> {
  await tx.$queryRaw`
    select s.id from swap s join offering o on o.group_id = s.group_id and o.swap_id = s.id
      where o.group_id = ${groupId}::uuid and o.id = ${offeringId}::uuid for share of s`
}
