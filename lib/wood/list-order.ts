import type { WoodRow, WoodSort, WoodState } from '#lib/wood/view.ts'

/** Which lots a state of the list shows. */
export const passes: Record<WoodState, (row: WoodRow) => boolean> = {
  kept: () => true,
  free: (row) => row.sums.free > 0,
  urgent: (row) => row.window.kind === 'window' && row.window.state !== 'good',
  held: (row) => row.isHeld,
  gone: (row) => row.sums.free + row.sums.promised === 0,
  all: () => true,
}

const likely = (row: WoodRow): string => (row.window.kind === 'window' ? row.window.likely : '9999-12-31')
const named = (row: WoodRow): string => row.varietyName ?? '\u{ffff}'

/** How the list is sorted. */
export const orders: Record<WoodSort, (a: WoodRow, b: WoodRow) => number> = {
  // Held wood is for nobody, so it stands after what somebody can use.
  first: (a, b) =>
    Number(a.isHeld) - Number(b.isHeld) ||
    likely(a).localeCompare(likely(b)) ||
    named(a).localeCompare(named(b), 'en'),
  latest: (a, b) => b.cutOn.localeCompare(a.cutOn) || named(a).localeCompare(named(b), 'en'),
  name: (a, b) => named(a).localeCompare(named(b), 'en') || a.cutOn.localeCompare(b.cutOn),
}
