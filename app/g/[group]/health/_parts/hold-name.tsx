import { displayCode } from '#app/_ui/code.tsx'
import { VarietyName } from '#app/_ui/name.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { treeWord } from '#app/g/[group]/wood/_parts/tree-word.ts'
import type { HoldRow } from '#lib/health/view.ts'

/** What is held, at the head of a sentence: "Lot ABC-DEF", "Tree ABC-DEF, limb B". */
export function holdSubject(hold: HoldRow): string {
  if (hold.lotCode) return `Lot ${displayCode(hold.lotCode)}`
  const tree = treeWord(hold)
  return tree.charAt(0).toUpperCase() + tree.slice(1)
}

/** The variety of what is held. */
export function HoldVariety({ hold }: { readonly hold: HoldRow }) {
  return (
    <>
      <VarietyName name={hold.varietyName} /> <span className="soft">{cropWord(hold.commonName)}</span>
    </>
  )
}
