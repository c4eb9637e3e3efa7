import { TreeSchematic } from '#app/_ui/tree-schematic.tsx'
import type { LimbView, TreeView } from '#lib/trees/view.ts'

function stateOf(limb: LimbView) {
  if (limb.goneOn) return 'gone'
  if (!limb.variety) return 'unnamed'
  if (limb.isDonor) return 'donor'
  return limb.origin === 'own' ? 'own' : 'grafted'
}

/** The tree as a drawing of its list of limbs, with the key to its marks. */
export function TreeDrawing({ tree, inches }: { readonly tree: TreeView; readonly inches: boolean }) {
  return (
    <figure>
      <TreeSchematic
        limbs={tree.limbs.map((limb) => ({
          letter: limb.mark,
          variety: limb.variety?.name ?? null,
          heightM: limb.heightCm === null ? null : limb.heightCm / 100,
          ...(limb.side ? { direction: limb.side } : {}),
          state: stateOf(limb),
          isOwn: limb.origin === 'own',
        }))}
        rootstock={tree.rootstock}
        lengthUnit={inches ? 'in' : 'cm'}
      />
      <figcaption className="note">
        Not to scale sideways; left and right are only for room. Read side and height from the list. White
        nicks mark unions. Filled letter: wood cut this season. Dashed: no name. Cross: gone.
      </figcaption>
    </figure>
  )
}
