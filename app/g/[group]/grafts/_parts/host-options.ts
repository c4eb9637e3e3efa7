import { displayCode } from '#app/_ui/code.tsx'
import type { LimbChoice, TreeChoice } from '#lib/trees/view.ts'

interface Option {
  readonly value: string
  readonly label: string
  readonly group: string
}

/** Trees and their limbs to graft onto, by keeper: the tree, then its limbs. */
export function hostOptions(trees: readonly TreeChoice[], limbs: readonly LimbChoice[]): readonly Option[] {
  return trees.flatMap((tree) => {
    const words = [displayCode(tree.code), tree.place, tree.varieties.slice(0, 2).join(', ')]
    const own = limbs.filter(({ treeCode }) => treeCode === tree.code)
    return [
      { value: `tree:${tree.treeId}`, label: words.filter(Boolean).join(', '), group: tree.keeperName },
      ...own.map((limb) => ({
        value: `limb:${limb.limbId}`,
        label: `${displayCode(tree.code)}, limb ${limb.mark}, ${limb.varietyName ?? 'no name'}`,
        group: tree.keeperName,
      })),
    ]
  })
}
