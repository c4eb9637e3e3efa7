import type { CivilDate } from '#lib/kernel/civil-date.ts'

/** What is needed of a look to tell whether it counts. */
export interface DatedCheck {
  readonly checkedOn: CivilDate
  /** The order in which looks were entered. */
  readonly seq: number
  readonly isCorrected: boolean
}

/**
 * The look that counts: of those that no other corrects, the one of the latest day, and of several on that day the
 * one entered last. Null while nobody has looked. The same rule stands in SQL in `lib/results/outcome-tallies.ts`.
 */
export function standingCheck<Check extends DatedCheck>(checks: readonly Check[]): Check | null {
  return checks
    .filter((check) => !check.isCorrected)
    .reduce<Check | null>(
      (best, check) =>
        best === null ||
        check.checkedOn > best.checkedOn ||
        (check.checkedOn === best.checkedOn && check.seq > best.seq)
          ? check
          : best,
      null,
    )
}
