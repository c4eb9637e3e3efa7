/** A lot that is drawn for: so many shares of so many sticks. */
export interface DrawOffering {
  readonly lotCode: string
  /** Whatever names the variety, the same for every lot of it: the limit per variety counts by this. */
  readonly variety: string
  readonly shares: number
  readonly sticksPerShare: number
  /** How many of the shares are kept for newcomers. */
  readonly newcomerShares?: number
  /** How many of the shares are kept for people whose wood was accepted. */
  readonly donorShares?: number
}

/** Somebody who takes part. */
export interface DrawEntrant {
  readonly memberCode: string
  /** Codes of lots, the most wanted first. At most one share of a lot goes to a person. */
  readonly wishes: readonly string[]
  readonly isDonor?: boolean
  readonly isNewcomer?: boolean
  /** Shares of this swap that the person holds already, by variety: they count for the limits. */
  readonly held?: readonly HeldShares[]
}

export interface HeldShares {
  readonly variety: string
  readonly shares: number
}

export interface DrawRules {
  /** Shares that one person may hold in all. */
  readonly capPerMember: number
  /** Shares that one person may hold of one variety. */
  readonly capPerVariety: number
  /** Tickets that a donor has for every wanted lot; everybody else has one. */
  readonly ticketsPerDonor: number
}

/** What is fixed and fingerprinted when wishes close. The order of its parts means nothing; that of wishes does. */
export interface DrawList {
  readonly offerings: readonly DrawOffering[]
  readonly entrants: readonly DrawEntrant[]
  readonly rules: DrawRules
}

/** Sorts codes the same way on every machine: by character code, never by the language of the reader. */
export const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

/** The tickets of a person for each wanted lot: `K7Q-2AB/1`, and `K7Q-2AB/2` … for donors. */
export function ticketsOf(entrant: DrawEntrant, rules: DrawRules): readonly string[] {
  const count = entrant.isDonor === true ? rules.ticketsPerDonor : 1
  return Array.from({ length: count }, (_, i) => `${entrant.memberCode}/${i + 1}`)
}

/** Rows by a key, each group in the order of the rows. */
export function grouped<Row>(
  rows: readonly Row[],
  keyOf: (row: Row) => string,
): ReadonlyMap<string, readonly Row[]> {
  const groups = new Map<string, Row[]>()
  for (const row of rows) {
    const group = groups.get(keyOf(row))
    if (group) group.push(row)
    else groups.set(keyOf(row), [row])
  }
  return groups
}
