import { required } from '#lib/kernel/assert.ts'

/** Two sides, of which one asks and the other keeps or refuses. */
export interface Market {
  /** Who asks, and for which lots. */
  readonly wishes: ReadonlyMap<string, readonly string[]>
  /** Of the lots that have not refused this person, those the person would take. */
  readonly chosenBy: (seeker: string, lots: readonly string[]) => readonly string[]
  /** Of the people who ask for this lot, those who are kept. */
  readonly keptBy: (lot: string, seekers: readonly string[]) => readonly string[]
}

/**
 * Deferred acceptance with the people asking, after Gale & Shapley 1962, American Mathematical Monthly 69(1):9–15,
 * in the form for people who may have several lots (Roth 1984, Econometrica 52(1):47–57): everybody asks for what
 * they would take of all that has not refused them; each lot keeps the best of those who ask and refuses the rest;
 * until nobody is refused any more.
 *
 * Where both choices are substitutable (what is taken of many would be taken of fewer), the outcome is stable, is
 * the best stable one for every person at once, and does not depend on the order in which anything is done.
 * Both sources are cited from memory; the tests check the claims against every stable outcome of small cases.
 *
 * @returns the people kept by each lot that anybody asked for.
 */
export function deferredAcceptance(market: Market): ReadonlyMap<string, readonly string[]> {
  const open = new Map([...market.wishes].map(([seeker, lots]) => [seeker, new Set(lots)]))
  const kept = new Map<string, Set<string>>()
  let asking: readonly string[] = [...market.wishes.keys()]
  while (asking.length > 0) {
    const asked = ask(market, asking, open, kept)
    const refused = new Set<string>()
    for (const lot of asked) {
      const applicants = required(kept.get(lot), `people who ask for ${lot}`)
      const chosen = new Set(market.keptBy(lot, [...applicants]))
      for (const seeker of applicants) {
        if (chosen.has(seeker)) continue
        required(open.get(seeker), `wishes of ${seeker}`).delete(lot)
        refused.add(seeker)
      }
      kept.set(lot, chosen)
    }
    asking = [...refused]
  }
  return new Map([...kept].map(([lot, seekers]) => [lot, [...seekers]]))
}

/** Adds the requests of those who ask; the lots that anybody new asks for. */
function ask(
  market: Market,
  asking: readonly string[],
  open: ReadonlyMap<string, ReadonlySet<string>>,
  kept: Map<string, Set<string>>,
): ReadonlySet<string> {
  const asked = new Set<string>()
  for (const seeker of asking) {
    const lots = [...required(open.get(seeker), `wishes of ${seeker}`)]
    for (const lot of market.chosenBy(seeker, lots)) {
      const applicants = kept.get(lot) ?? new Set<string>()
      if (!applicants.has(seeker)) asked.add(lot)
      kept.set(lot, applicants.add(seeker))
    }
  }
  return asked
}
