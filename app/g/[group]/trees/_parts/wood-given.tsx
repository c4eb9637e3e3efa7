import { LotCode } from '#app/_ui/code.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { VarietyName } from '#app/_ui/name.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { LimbLot, TreeView } from '#lib/trees/view.ts'

const kindWords: Readonly<Record<LimbLot['kind'], string>> = {
  scion_wood: 'scion wood',
  budwood: 'budwood',
  hardwood_cuttings: 'hardwood cuttings',
  rooted_plants: 'rooted plants',
}

interface WoodGivenProps {
  readonly slug: string
  readonly tree: TreeView
  readonly today: CivilDate
}

/** Every lot that was cut from a tree, with the sum of the sticks. */
export function WoodGiven({ slug, tree, today }: WoodGivenProps) {
  if (tree.lots.length === 0) {
    return (
      <Empty title="No wood cut yet">
        Lots appear here when a cutting session is logged, mostly between December and March.
      </Empty>
    )
  }
  const sticks = tree.lots.reduce((sum, lot) => sum + lot.sticks, 0)
  return (
    <table className="tbl">
      <thead>
        <tr>
          <th scope="col">Lot</th>
          <th scope="col">Limb</th>
          <th scope="col">Cut</th>
          <th scope="col" className="r">
            Sticks
          </th>
        </tr>
      </thead>
      <tbody>
        {tree.lots.map((lot) => (
          <tr key={lot.code}>
            <th scope="row">
              <LotCode code={lot.code} href={`/g/${slug}/wood/${lot.code}`} />
              <div className="soft">{kindWords[lot.kind]}</div>
            </th>
            <td>{lot.mark}</td>
            <td>
              <RecordedDay date={lot.cutOn} today={today} />
            </td>
            <td className="r">{lot.sticks}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colSpan={3}>
            All
          </th>
          <td className="r">{sticks}</td>
        </tr>
      </tfoot>
    </table>
  )
}

/** Limbs elsewhere that grew from a tree's wood. */
export function GrownFromIt({ slug, tree, today }: WoodGivenProps) {
  if (tree.offspring.length === 0) {
    return (
      <p className="note">
        Nothing on record yet. A graft or cutting that lives shows here once its tree is recorded.
      </p>
    )
  }
  return (
    <Rows>
      {tree.offspring.map((limb) => (
        <li key={`${limb.treeCode}-${limb.mark}`}>
          <LotCode code={limb.treeCode} href={`/g/${slug}/trees/${limb.treeCode}`} />, limb {limb.mark}:{' '}
          <VarietyName name={limb.varietyName} />
          <p className="note">
            {limb.keeperName}, of wood from limb {limb.fromMark}
            {limb.goneOn && (
              <>
                ; gone <RecordedDay date={limb.goneOn} today={today} />
              </>
            )}
          </p>
        </li>
      ))}
    </Rows>
  )
}
