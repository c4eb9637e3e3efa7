import { LotCode } from '#app/_ui/code.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import type { MemberView } from '#lib/people/view.ts'

interface MemberTreesProps {
  readonly slug: string
  readonly trees: MemberView['trees']
}

/** The trees that a person looks after, with what grows on each. */
export function MemberTrees({ slug, trees }: MemberTreesProps) {
  return (
    <Rows>
      {trees.map((tree) => (
        <li key={tree.code} className="stack-s">
          <p>
            <LotCode code={tree.code} href={`/g/${slug}/trees/${tree.code}`} />
            {tree.place && `, ${tree.place}`}
          </p>
          <p className="note">
            {tree.varieties.map((name, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: one sort may stand on a tree twice
              <span key={i}>
                {i > 0 && ', '}
                <VarietyName name={name} />
              </span>
            ))}
            {tree.unnamed > 0 &&
              `${tree.varieties.length > 0 ? ', ' : ''}${counted(tree.unnamed, 'limb')} without a name`}
          </p>
        </li>
      ))}
    </Rows>
  )
}
