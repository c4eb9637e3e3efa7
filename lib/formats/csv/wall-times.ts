import { instantsShown } from '#lib/kernel/civil-date.ts'

const dayMs = 86_400_000

/** Turns what a clock on the wall showed into instants, for many moments of few days. */
export interface WallTimes {
  /** The instants at which the clock showed this (as if it were UTC, ms): none, one or two. */
  instants(wallMs: number): readonly number[]
}

/** Clocks that are changed with the seasons. A day without a change is worked out once. */
export function wallTimes(timeZone: string): WallTimes {
  const shown = (wallMs: number) => instantsShown(timeZone, wallMs).map((instant) => instant.getTime())
  const plainOffsets = new Map<number, number | null>()
  const plainOffset = (day: number): number | null => {
    const known = plainOffsets.get(day)
    if (known !== undefined) return known
    const [start, end] = [shown(day * dayMs), shown((day + 1) * dayMs)]
    const offsets = [...start.map((ms) => day * dayMs - ms), ...end.map((ms) => (day + 1) * dayMs - ms)]
    const first = offsets[0]
    const isPlain =
      start.length === 1 &&
      end.length === 1 &&
      first !== undefined &&
      offsets.every((offset) => offset === first)
    const offset = isPlain ? first : null
    plainOffsets.set(day, offset)
    return offset
  }
  return {
    instants(wallMs) {
      const offset = plainOffset(Math.floor(wallMs / dayMs))
      return offset === null ? shown(wallMs) : [wallMs - offset]
    },
  }
}

/** A logger whose clock stays as far ahead of UTC as it is, all year. */
export const fixedTimes = (minutesAhead: number): WallTimes => ({
  instants: (wallMs) => [wallMs - minutesAhead * 60_000],
})
