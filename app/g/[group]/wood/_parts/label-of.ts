import type { BagLabelData } from '#app/_ui/labels/bag-label.tsx'
import type { FlagData } from '#app/_ui/labels/stick-flag.tsx'
import { type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { monthAndYear } from '#app/g/[group]/wood/_parts/month-and-year.ts'
import { sayForLabel } from '#app/g/[group]/wood/_parts/say-window.ts'
import { treeWord } from '#app/g/[group]/wood/_parts/tree-word.ts'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import type { identityGrades } from '#lib/trees/identity.ts'
import { storageProfileFor } from '#lib/viability/storage-profiles.ts'
import type { LotRow } from '#lib/wood/lot-rows.ts'
import type { StickSums } from '#lib/wood/view.ts'
import type { KeptWindow, NoWindow } from '#lib/wood/window-of-lot.ts'

const named: Record<(typeof identityGrades)[number], string> = {
  dna: 'Name by DNA.',
  expert: 'Named by an expert.',
  fruited_true: 'Fruited true.',
  nursery_tag: 'Named by its nursery tag.',
  donor_word: 'Named on the donor’s word.',
  unknown: 'Name not confirmed.',
}

function sharing({ protection }: LotRow): string {
  if (protection === null || protection === 'unknown') return 'Protection not known.'
  return protection === 'none_known' || protection === 'expired'
    ? 'No protection known.'
    : 'Protected: do not pass on.'
}

/** What was seen of its tree in leaf, never a promise of health. */
export function healthWords({ seenInLeafOn, healthNote }: LotRow): string {
  if (!seenInLeafOn) return 'Not looked at in leaf; not virus-tested.'
  return `Seen in leaf ${monthAndYear(seenInLeafOn)}${healthNote ? ', see its tree' : ''}; not virus-tested.`
}

/** Evergreen wood is hurt by a store that dormant wood wants. */
function keepWords(lot: LotRow, unit: TemperatureUnit): string {
  const { profile } = storageProfileFor(lot.storageProfile ?? '')
  return `Keep near ${temperature(profile.evergreen ? Math.max(5, profile.reserveFloorC) : 1, unit)}, sealed.`
}

export interface LabelContext {
  readonly today: CivilDate
  readonly timeZone: string
  readonly unit: TemperatureUnit
}

/** Sticks that a bag holds: what is in the store, promised or not. */
const sticksInBag = (sums: StickSums): number => sums.free + sums.promised

/** What the label of a lot's bag says. */
export function bagLabelOf(
  lot: LotRow,
  sums: StickSums,
  window: KeptWindow | NoWindow,
  { today, timeZone, unit }: LabelContext,
): BagLabelData {
  const keeps = window.kind === 'window' ? ` ${sayForLabel(window, { cut: lot.cutOn, today })}` : ''
  return {
    code: lot.code,
    variety: lot.varietyName,
    crop: cropWord(lot.commonName),
    from: treeWord(lot),
    cut: lot.cutOn,
    sticks: sticksInBag(sums),
    basis: `${named[lot.identity]} ${sharing(lot)}`,
    health: healthWords(lot),
    keep: `${keepWords(lot, unit)}${keeps}`,
    hold: lot.hold && {
      on: civilDateIn(timeZone, lot.hold.placedAt),
      by: lot.hold.placedBy,
      reason: lot.hold.reason,
    },
  }
}

/** What the flag on each of its sticks says. */
export const flagOf = (lot: LotRow): FlagData => ({
  code: lot.code,
  variety: lot.varietyName,
  cut: lot.cutOn,
  hold: lot.hold !== null,
})
