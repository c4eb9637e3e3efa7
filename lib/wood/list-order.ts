import type { WoodRow } from '#lib/wood/view.ts'

const likely = (row: WoodRow): string => (row.window.kind === 'window' ? row.window.likely : '9999-12-31')
const named = (row: WoodRow): string => row.varietyName ?? '\u{ffff}'

/** What must be used first. Held wood is for nobody, so it stands after what somebody can use. */
export const firstToUse = (a: WoodRow, b: WoodRow): number =>
  Number(a.isHeld) - Number(b.isHeld) ||
  likely(a).localeCompare(likely(b)) ||
  named(a).localeCompare(named(b), 'en')
