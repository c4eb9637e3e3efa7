import type { NameCertainty, ProtectionStatus, SynonymKind } from '#lib/platform/generated/enums.ts'

/** Years after which an unknown protection no longer stands in the way of an offering; the database's own rule. */
const recentYears = 30

/** Statuses under which somebody may hold a right. */
const claimed: ReadonlySet<ProtectionStatus> = new Set(['in_force', 'pending', 'breeders_right'])

/** Whether the status says that somebody holds a right, or has asked for one. */
export const isClaimed = (protection: ProtectionStatus): boolean => claimed.has(protection)

/**
 * Whether wood of a variety stays out of a swap unless a steward overrides it: somebody holds a right or has asked
 * for one, or nobody knows and the variety is recent or of unknown age. A rule of caution, not of law.
 *
 * @param year the year in which the swap is held
 */
export function needsOverride(
  variety: { readonly protection: ProtectionStatus; readonly introducedYear: number | null },
  year: number,
): boolean {
  if (isClaimed(variety.protection)) return true
  if (variety.protection !== 'unknown') return false
  return variety.introducedYear === null || variety.introducedYear > year - recentYears
}

export const protectionWords: Readonly<Record<ProtectionStatus, string>> = {
  none_known: 'None known',
  expired: 'A patent or right that has ended',
  in_force: 'A patent in force',
  pending: 'A patent or right applied for',
  breeders_right: 'A breeder’s right',
  unknown: 'Nobody knows',
}

export const certaintyWords: Readonly<Record<NameCertainty, string>> = {
  settled: 'Settled',
  likely: 'Likely',
  disputed: 'Disputed',
  unknown: 'Not known',
}

export const synonymWords: Readonly<Record<SynonymKind, string>> = {
  synonym: 'another name',
  selling_name: 'a selling name',
  breeder_code: 'a breeder’s code',
}
