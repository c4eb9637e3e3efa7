import { StateWord } from '#app/_ui/state-word.tsx'
import type { WoodRow } from '#lib/wood/view.ts'

/** How a lot stands: a hold before anything the window says, and no window for wood that has left its store. */
export function RowState({ row }: { readonly row: Pick<WoodRow, 'isHeld' | 'window' | 'sums'> }) {
  if (row.isHeld) return <StateWord kind="hold" />
  if (row.sums.free + row.sums.promised === 0) return <StateWord kind="past">None left</StateWord>
  if (row.window.kind === 'none') return <StateWord kind="info">No window</StateWord>
  return <StateWord kind={row.window.state} />
}
