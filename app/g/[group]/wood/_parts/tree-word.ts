import { displayCode } from '#app/_ui/code.tsx'

/** "tree ABC-DEF", with the limb where the tree has several. */
export const treeWord = (of: {
  readonly treeCode: string
  readonly mark: string
  readonly limbsOnTree: number
}): string => `tree ${displayCode(of.treeCode)}${of.limbsOnTree > 1 ? `, limb ${of.mark}` : ''}`
