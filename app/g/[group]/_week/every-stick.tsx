import { SumTable } from '#app/_ui/sum-table.tsx'
import type { StickSums } from '#lib/week/stick-sums.ts'

interface Part {
  readonly label: string
  readonly count: number
}

/** Where every stick of the season is. Rows that are empty are left out, but for the two that people look for. */
export function EveryStick({ sticks }: { readonly sticks: StickSums }) {
  const parts: readonly Part[] = [
    { label: 'Free, in a store', count: sticks.free },
    { label: 'In a store, on hold', count: sticks.held },
    { label: 'Claimed', count: sticks.promised },
    { label: 'With members', count: sticks.withMembers },
    { label: 'Taken from the table without a name', count: sticks.walkedUp },
    { label: 'In the post', count: sticks.inPost },
    { label: 'Grafted or struck', count: sticks.used },
    { label: 'Spoiled or destroyed', count: sticks.destroyed },
    { label: 'Lost', count: sticks.lost },
  ]
  const always = new Set(['Free, in a store', 'Claimed'])
  return (
    <SumTable
      rows={parts.filter(({ label, count }) => count > 0 || always.has(label))}
      total={{ label: 'Sticks cut', count: sticks.cut }}
    />
  )
}
