import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import type { Queries } from '#lib/platform/database/database.ts'

export type NamedMember =
  | { readonly kind: 'found'; readonly memberId: string }
  | { readonly kind: 'nobody' }
  | { readonly kind: 'several' }

/**
 * Finds people by name as a spreadsheet spells it; accents, capitals and spaces do not matter. Those who left are
 * found as well, because a sheet tells of earlier years.
 */
export async function memberByName(tx: Queries, groupId: string): Promise<(name: string) => NamedMember> {
  const members = await tx.member.findMany({
    where: { groupId },
    select: { id: true, displayName: true },
  })
  const byKey = new Map<string, string[]>()
  for (const { id, displayName } of members) {
    const key = cultivarSearchKey(displayName)
    byKey.set(key, [...(byKey.get(key) ?? []), id])
  }
  return (name) => {
    const [first, second] = byKey.get(cultivarSearchKey(name)) ?? []
    if (first === undefined) return { kind: 'nobody' }
    return second === undefined ? { kind: 'found', memberId: first } : { kind: 'several' }
  }
}
