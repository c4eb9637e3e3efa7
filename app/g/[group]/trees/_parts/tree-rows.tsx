import { LotCode } from '#app/_ui/code.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { TreeRow } from '#lib/trees/view.ts'

interface TreeRowsProps {
  readonly slug: string
  readonly trees: readonly TreeRow[]
  readonly today: CivilDate
}

/** Trees with what grows on them. */
export function TreeRows({ slug, trees, today }: TreeRowsProps) {
  return (
    <Rows>
      {trees.map((tree) => (
        <li key={tree.treeId} className="stack-s">
          <div className="sec-head">
            <p>
              <LotCode code={tree.code} href={`/g/${slug}/trees/${tree.code}`} />
              {tree.place && <>&ensp;{tree.place}</>}
            </p>
            {tree.onHold && <StateWord kind="hold">On hold</StateWord>}
            {tree.goneOn && (
              <StateWord kind="past">
                Gone <RecordedDay date={tree.goneOn} today={today} />
              </StateWord>
            )}
          </div>
          <p>
            <Sorts limbs={tree.limbs} />
          </p>
          <p className="note">
            {tree.keeperName}
            {tree.rootstock && `; on ${tree.rootstock}`}
          </p>
        </li>
      ))}
    </Rows>
  )
}

function Sorts({ limbs }: { readonly limbs: TreeRow['limbs'] }) {
  const named = limbs.filter((limb) => limb.varietyName !== null)
  const unnamed = limbs.length - named.length
  const fruits = [...new Set(named.map((limb) => limb.commonName))].join(', ')
  if (limbs.length === 0) return <span className="note">no limb left</span>
  return (
    <>
      {named.map((limb, i) => (
        <span key={limb.mark}>
          {i > 0 && ', '}
          <VarietyName name={limb.varietyName} />
        </span>
      ))}
      {unnamed > 0 && `${named.length > 0 ? ', ' : ''}${counted(unnamed, 'limb')} without a name`}
      {fruits && <span className="note"> {fruits}</span>}
    </>
  )
}
