import { StateWord } from '#app/_ui/state-word.tsx'
import type { WoodRow } from '#lib/wood/view.ts'

/** How a lot stands: a hold before anything the window says. */
export function RowState({ row }: { readonly row: Pick<WoodRow, 'isHeld' | 'window'> }) {
  if (row.isHeld) return <StateWord kind="hold" />
  if (row.window.kind === 'none') return <StateWord kind="info">No window</StateWord>
  return <StateWord kind={row.window.state} />
}
