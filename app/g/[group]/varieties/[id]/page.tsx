import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { LotCode } from '#app/_ui/code.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { Facts } from '#app/_ui/facts.tsx'
import { counted } from '#app/_ui/measures.ts'
import { LatinName, SellingName, VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Columns, Section } from '#app/_ui/section.tsx'
import { memberContext } from '#lib/access/context.ts'
import { formatEpithet } from '#lib/grafting/cultivar-name.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { identityWords } from '#lib/trees/identity.ts'
import { certaintyWords, synonymWords } from '#lib/varieties/protection.ts'
import { getVariety } from '#lib/varieties/queries.ts'
import type { SynonymView, VarietyView } from '#lib/varieties/view.ts'
import { GroupPage } from '../../_frame/group-page.tsx'
import { DoneNotice } from '../../people/_parts/done-notice.tsx'
import { ProtectionLines } from '../_parts/protection-words.tsx'

export async function generateMetadata(props: PageProps<'/g/[group]/varieties/[id]'>): Promise<Metadata> {
  const { group, id } = await props.params
  const { db, actor } = await memberContext(group)
  const variety = await getVariety(db, actor, id)
  return { title: variety ? formatEpithet(variety.name) : 'Varieties' }
}

const notices = { added: 'The variety was added.', saved: 'The changes were saved.' }

export default async function VarietyPage(props: PageProps<'/g/[group]/varieties/[id]'>) {
  const [{ group: slug, id }, { done }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const variety = await getVariety(db, actor, id)
  if (!variety) notFound()
  return (
    <GroupPage context={context} current="varieties">
      <DoneNotice done={done} words={notices} />
      <PageHead
        title={<VarietyName name={variety.name} />}
        crumb={{ href: `/g/${slug}/varieties`, label: 'Varieties' }}
        meta={
          <>
            {variety.commonName}, <LatinName>{variety.taxonName}</LatinName>, {variety.family}
          </>
        }
        acts={variety.mayEdit && <ActionLink href={`/g/${slug}/varieties/${id}/edit`}>Change</ActionLink>}
      />
      <Columns>
        <div className="stack-l">
          <Section title="Where it grows" id="growing">
            <Growing slug={slug} variety={variety} today={today} />
          </Section>
          {variety.note && (
            <Section title="Note" id="note">
              <p className="read whitespace-pre-line">{variety.note}</p>
            </Section>
          )}
        </div>
        <div className="stack-l">
          <Section title="Names" id="names">
            <Facts
              items={[
                ['Name', certaintyWords[variety.nameCertainty].toLowerCase()],
                variety.introducedYear !== null && ['Introduced', String(variety.introducedYear)],
                ['Lots cut', String(variety.lots)],
                ['Grafts, cuttings', counted(variety.attempts, 'batch', 'batches')],
              ]}
            />
            <OtherNames names={variety.synonyms} />
          </Section>
          <Section title="Patent or breeder’s right" id="protection">
            <ProtectionLines variety={variety} today={today} />
          </Section>
        </div>
      </Columns>
    </GroupPage>
  )
}

function OtherNames({ names }: { readonly names: readonly SynonymView[] }) {
  if (names.length === 0) return <p className="note">No other names on record.</p>
  return (
    <Rows>
      {names.map((name) => (
        <li key={name.id}>
          {name.kind === 'selling_name' ? <SellingName>{name.name}</SellingName> : name.name}
          <span className="note"> {synonymWords[name.kind]}</span>
        </li>
      ))}
    </Rows>
  )
}

interface GrowingProps {
  readonly slug: string
  readonly variety: VarietyView
  readonly today: CivilDate
}

function Growing({ slug, variety, today }: GrowingProps) {
  if (variety.growing.length === 0) {
    return (
      <Empty
        title="On no tree yet"
        action={<ActionLink href={`/g/${slug}/trees/new?variety=${variety.id}`}>Add a tree</ActionLink>}
      >
        A limb of this sort shows here as soon as a tree with it is recorded.
      </Empty>
    )
  }
  return (
    <Rows>
      {variety.growing.map((limb) => (
        <li key={limb.limbId} className="stack-s">
          <p>
            <LotCode code={limb.treeCode} href={`/g/${slug}/trees/${limb.treeCode}`} />, limb {limb.mark}
            {limb.place && `, ${limb.place}`}
          </p>
          <p className="note">
            {limb.keeperName}; {identityWords[limb.identity]}
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
