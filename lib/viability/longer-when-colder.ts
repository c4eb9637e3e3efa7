import { type ViabilityWindowInput, viabilityWindow } from '#lib/viability/viability-window.ts'

/** What a colder store would add from the day asked about on. */
export interface Lengthening {
  /** How much colder than it is kept now, °C. */
  readonly colderBy: number
  /** The temperature that would then be kept, °C. */
  readonly celsius: number
  /** Days that the likely limit moves. */
  readonly days: number
}

const dayMs = 86_400_000
const usualStepC = 2
/** A smaller step is not worth a word. */
const smallestStepC = 0.5

const toTenth = (value: number) => Math.round(value * 10) / 10

/**
 * What two degrees colder would add to the likely limit, from `asOf` on; less where the floor of the profile is nearer,
 * below which cold keeps the wood no longer or hurts it. Null when there is nothing to gain: at the floor, past the
 * likely limit, where nobody knows the store, and for input that is refused.
 */
export function longerWhenColder(input: ViabilityWindowInput): Lengthening | null {
  const last = input.stints.at(-1)
  if (!last || last.to !== null) return null
  const now = last.celsius.mid
  const colderBy = toTenth(now - Math.max(input.profile.reserveFloorC, now - usualStepC))
  if (colderBy < smallestStepC) return null
  const [asItIs, colder] = [now, now - colderBy].map((keptAt) => viabilityWindow({ ...input, keptAt }))
  if (asItIs?.kind !== 'window' || colder?.kind !== 'window' || asItIs.likely.at <= input.asOf) return null
  const days = Math.round((colder.likely.at.getTime() - asItIs.likely.at.getTime()) / dayMs)
  return days > 0 ? { colderBy, celsius: toTenth(now - colderBy), days } : null
}
