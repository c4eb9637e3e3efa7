/** A reproducible stream of numbers in [0, 1): the same seed gives the same stream on every machine. */
export interface Random {
  /** The next number, 0 ≤ x < 1. */
  next(): number
  /** A whole number, low ≤ x ≤ high. */
  integer(low: number, high: number): number
  /** True with the given probability. */
  chance(probability: number): boolean
  /** One of the items, each equally likely. Throws on an empty list. */
  pick<T>(items: readonly T[]): T
  /** The items in a random order; the argument is left as it was. */
  shuffle<T>(items: readonly T[]): T[]
}

/** mulberry32, a public-domain 32-bit generator (T. Ettinger): enough for simulation, never for secrets. */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296
  }
  const integer = (low: number, high: number) => low + Math.floor(next() * (high - low + 1))
  return {
    next,
    integer,
    chance: (probability) => next() < probability,
    pick: (items) => {
      const item = items[integer(0, items.length - 1)]
      if (item === undefined) throw new Error('Nothing to pick from')
      return item
    },
    shuffle: (items) => {
      const copy = [...items]
      for (let i = copy.length - 1; i > 0; i--) {
        const j = integer(0, i)
        const a = copy[i] as (typeof copy)[number]
        copy[i] = copy[j] as (typeof copy)[number]
        copy[j] = a
      }
      return copy
    },
  }
}
