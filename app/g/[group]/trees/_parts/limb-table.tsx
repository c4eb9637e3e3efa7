import Link from 'next/link'
import { LotCode } from '#app/_ui/code.tsx'
import { height } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { findMethod } from '#lib/grafting/methods.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { identityWords, originWords } from '#lib/trees/identity.ts'
import type { LimbLineage, LimbView, TreeView } from '#lib/trees/view.ts'

interface LimbTableProps {
  readonly slug: string
  readonly tree: TreeView
  readonly today: CivilDate
  readonly inches: boolean
  readonly mayHold: boolean
}

/** The limbs in order from the ground up: a table on a desk, a ruled list on a phone. */
export function LimbTable(props: LimbTableProps) {
  const { limbs } = props.tree
  return (
    <>
      <div className="wide-only">
        <table className="tbl">
          <thead>
            <tr>
              <th scope="col">Limb</th>
              <th scope="col">Sort, and how we know</th>
              <th scope="col">Where</th>
              <th scope="col">Came from</th>
              <th scope="col">Now</th>
            </tr>
          </thead>
          <tbody>
            {limbs.map((limb) => (
              <tr key={limb.limbId} className={isHeldBack(limb) ? 'is-held' : undefined}>
                <td>
                  <b>{limb.mark}</b>
                </td>
                <th scope="row">
                  <Name slug={props.slug} limb={limb} />
                  <Known limb={limb} today={props.today} />
                  <LimbLinks slug={props.slug} tree={props.tree} limb={limb} mayHold={props.mayHold} />
                </th>
                <td>
                  <Where limb={limb} inches={props.inches} />
                </td>
                <td>
                  <CameFrom slug={props.slug} limb={limb} today={props.today} />
                </td>
                <td>
                  <Now limb={limb} today={props.today} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <ol className="rows phone-only">
        {limbs.map((limb) => (
          <li key={limb.limbId} className="stack-s">
            <div className="sec-head">
              <p>
                <b>{limb.mark}</b>&ensp;
                <Name slug={props.slug} limb={limb} />
              </p>
              <Now limb={limb} today={props.today} />
            </div>
            <p className="note">
              <Where limb={limb} inches={props.inches} />;{' '}
              <CameFrom slug={props.slug} limb={limb} today={props.today} />
            </p>
            <Known limb={limb} today={props.today} />
            <LimbLinks slug={props.slug} tree={props.tree} limb={limb} mayHold={props.mayHold} />
          </li>
        ))}
      </ol>
    </>
  )
}

const isHeldBack = (limb: LimbView) => limb.goneOn === null && (limb.hold !== null || limb.variety === null)

interface LimbProps {
  readonly slug: string
  readonly limb: LimbView
  readonly today: CivilDate
}

function Name({ slug, limb }: Pick<LimbProps, 'slug' | 'limb'>) {
  if (!limb.variety) return <VarietyName name={null} />
  return (
    <Link href={`/g/${slug}/varieties/${limb.variety.id}`} prefetch={false}>
      <VarietyName name={limb.variety.name} />
    </Link>
  )
}

/** How the name is known, and what speaks for or against cutting. */
function Known({ limb, today }: Pick<LimbProps, 'limb' | 'today'>) {
  return (
    <div className="in-words">
      {limb.variety && <div className="soft">{identityWords[limb.identity]}</div>}
      {limb.hold && (
        <div>
          On hold since <RecordedDay date={limb.hold.placedOn} today={today} />: {limb.hold.reason}. Do not
          cut.
        </div>
      )}
      {!limb.variety && !limb.goneOn && <div>Do not cut for a swap until somebody can say what it is.</div>}
      {limb.isDonor && <div>Donor: wood cut this season</div>}
      {!limb.goneOn && <Seen limb={limb} today={today} />}
      {limb.healthNote && <div>{limb.healthNote}</div>}
    </div>
  )
}

interface LimbLinksProps {
  readonly slug: string
  readonly tree: TreeView
  readonly limb: LimbView
  readonly mayHold: boolean
}

/** What can be done with a limb, for those who may. */
function LimbLinks({ slug, tree, limb, mayHold }: LimbLinksProps) {
  const change = tree.mayEdit && !tree.goneOn
  const hold = mayHold && !limb.goneOn && !limb.hold
  if (!change && !hold) return null
  return (
    <div className="flex flex-wrap gap-x-4">
      {change && (
        <Link className="tap" href={`/g/${slug}/trees/${tree.code}/limb/${limb.limbId}`} prefetch={false}>
          {limb.variety ? 'Change' : 'Name'} limb {limb.mark}
        </Link>
      )}
      {hold && (
        <Link className="tap" href={`/g/${slug}/health/new?limb=${limb.limbId}`} prefetch={false}>
          Hold limb {limb.mark}
        </Link>
      )}
    </div>
  )
}

function Seen({ limb, today }: { readonly limb: LimbView; readonly today: CivilDate }) {
  if (!limb.seenInLeafOn) return <div className="soft">not noted in leaf yet</div>
  return (
    <div className="soft">
      seen in leaf <RecordedDay date={limb.seenInLeafOn} today={today} />
    </div>
  )
}

function Where({ limb, inches }: { readonly limb: LimbView; readonly inches: boolean }) {
  const up = limb.heightCm === null ? null : height(limb.heightCm / 100, inches ? 'in' : 'cm')
  if (!up && !limb.side) return <span className="soft">not noted</span>
  return [up, limb.side].filter(Boolean).join(', ')
}

function CameFrom({ slug, limb, today }: LimbProps) {
  return limb.from ? <Lineage slug={slug} from={limb.from} today={today} /> : originWords[limb.origin]
}

interface LineageProps {
  readonly slug: string
  readonly from: LimbLineage
  readonly today: CivilDate
}

/** Where the wood of a limb came from: the graft, the lot and the donor tree, each a link. */
export function Lineage({ slug, from, today }: LineageProps) {
  return (
    <>
      <Link href={`/g/${slug}/grafts/${from.attemptId}`} prefetch={false}>
        {findMethod(from.method)?.name ?? from.method}
      </Link>
      , {from.growerName}, <RecordedDay date={from.madeOn} today={today} />
      {from.lotCode && (
        <>
          ; lot <LotCode code={from.lotCode} href={`/g/${slug}/wood/${from.lotCode}`} />
        </>
      )}
      {from.donor && (
        <>
          ; from limb {from.donor.mark} of{' '}
          <LotCode code={from.donor.treeCode} href={`/g/${slug}/trees/${from.donor.treeCode}`} />,{' '}
          {from.donor.keeperName}
        </>
      )}
    </>
  )
}

function Now({ limb, today }: { readonly limb: LimbView; readonly today: CivilDate }) {
  if (limb.goneOn) {
    return (
      <StateWord kind="past">
        Gone <RecordedDay date={limb.goneOn} today={today} />
      </StateWord>
    )
  }
  if (limb.hold) return <StateWord kind="hold">On hold</StateWord>
  if (!limb.variety) return <StateWord kind="hold">No name</StateWord>
  return <StateWord kind="good">Growing</StateWord>
}
