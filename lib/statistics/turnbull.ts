/** Between which two looks it happened: not by `after` (or from the start), by `by` at the latest; null for not yet. */
export interface Between {
  readonly after: number
  readonly by: number | null
}

export interface TurnbullStep {
  /** An interval in which it may have happened. */
  readonly after: number
  readonly by: number | null
  /** The share to which it happened in there; where in there, nothing tells. */
  readonly share: number
  /** The share to which it has not happened by its end. */
  readonly survival: number
}

const enough = 1e-12
const mostRounds = 20_000

/** The smallest intervals between a lower limit and the next upper one: only there can anything be told to happen. */
function innermost(observations: readonly Between[]): { after: number; by: number }[] {
  const ends = observations.flatMap(({ after, by }) => [
    { at: after, isLower: true },
    { at: by ?? Infinity, isLower: false },
  ])
  // An upper limit goes before a lower one of the same time: "after 7" does not include 7.
  ends.sort((a, b) => (a.at === b.at ? Number(a.isLower) - Number(b.isLower) : a.at < b.at ? -1 : 1))
  return ends.flatMap((end, i) => {
    const next = ends[i + 1]
    return next && end.isLower && !next.isLower ? [{ after: end.at, by: next.at }] : []
  })
}

/**
 * The share to which something has not happened yet, where it was only seen between one look and the next. Throws
 * RangeError when there is nothing, or a look comes before the one before it.
 *
 * Source: B. W. Turnbull 1976, J R Stat Soc B 38:290–295 (from memory): self-consistency, iterated.
 */
export function turnbull(observations: readonly Between[]): readonly TurnbullStep[] {
  if (observations.length === 0) throw new RangeError('There is nothing to follow')
  for (const { after, by } of observations) {
    if (!(after >= 0) || (by !== null && !(by > after)))
      throw new RangeError(`Not between looks: ${after}, ${by}`)
  }
  const places = innermost(observations)
  const inside = observations.map(({ after, by }) =>
    places.flatMap((place, i) => (place.after >= after && place.by <= (by ?? Infinity) ? [i] : [])),
  )
  let shares = places.map(() => 1 / places.length)
  for (let round = 0; round < mostRounds; round++) {
    const next = places.map(() => 0)
    for (const own of inside) {
      const total = own.reduce((sum, i) => sum + (shares[i] ?? 0), 0)
      for (const i of own) next[i] = (next[i] ?? 0) + (shares[i] ?? 0) / total / observations.length
    }
    const moved = next.reduce((most, share, i) => Math.max(most, Math.abs(share - (shares[i] ?? 0))), 0)
    shares = next
    if (moved < enough) break
  }
  let survival = 1
  return places.map(({ after, by }, i) => {
    const share = shares[i] ?? 0
    survival = Math.max(0, survival - share)
    return { after, by: by === Infinity ? null : by, share, survival }
  })
}
