import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { LotCode } from '#app/_ui/code.tsx'
import { recordedDay } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { AttemptForm, type WoodOfForm } from '#app/g/[group]/grafts/_parts/attempt-form.tsx'
import { type Grower, growerOf } from '#app/g/[group]/grafts/_parts/grower-of.ts'
import { WoodInHand } from '#app/g/[group]/grafts/_parts/wood-in-hand.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { type MemberContext, memberContext } from '#lib/access/context.ts'
import { receivedWood } from '#lib/attempts/queries.ts'
import { usableWood } from '#lib/attempts/usable-wood.ts'
import type { ReceivedWood } from '#lib/attempts/view.ts'
import { limbChoices, treeChoices } from '#lib/trees/queries.ts'
import { varietyChoices } from '#lib/varieties/queries.ts'
import { GroupPage } from '../../_frame/group-page.tsx'

export const metadata: Metadata = { title: 'Record a graft or cutting' }

export default async function NewGraftPage(props: PageProps<'/g/[group]/grafts/new'>) {
  const [{ group: slug }, query] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const grower = await growerOf(context, query['for'])
  const lotId = query['lot']
  const isLot = typeof lotId === 'string'
  const back = `/g/${slug}/grafts${grower.name ? `?for=${grower.id}` : ''}`
  return (
    <GroupPage context={context} current="grafts">
      <PageHead
        title={grower.name ? `A graft or cutting of ${grower.name}` : 'A graft or cutting'}
        crumb={{ href: back, label: grower.name ? `Grafts of ${grower.name}` : 'My grafts' }}
        lead={isLot || 'own' in query ? undefined : 'First the wood: where did it come from?'}
      />
      {isLot ? (
        <OfLot context={context} slug={slug} grower={grower} lotId={lotId} />
      ) : 'own' in query ? (
        <OfOwn context={context} slug={slug} grower={grower} />
      ) : (
        <ChooseWood context={context} slug={slug} grower={grower} />
      )}
    </GroupPage>
  )
}

interface PartProps {
  readonly context: MemberContext
  readonly slug: string
  readonly grower: Grower
}

async function ChooseWood({ context, slug, grower }: PartProps) {
  const { db, actor, today } = context
  const wood = await receivedWood(db, actor, grower.id)
  const whom = grower.name ? `&for=${grower.id}` : ''
  return (
    <>
      <p className="acts">
        <ActionLink href={`/g/${slug}/grafts/morning${grower.name ? `?for=${grower.id}` : ''}`} kind="first">
          Enter a morning’s work
        </ActionLink>
      </p>
      <Section title="Wood received through the group" id="received">
        {wood.length > 0 ? (
          <WoodInHand slug={slug} wood={wood} today={today} growerId={grower.name ? grower.id : null} />
        ) : (
          <Empty title="No sticks at hand">
            Sticks appear here once they have been handed over at a swap. Those that were recorded as used are
            no longer shown.
          </Empty>
        )}
      </Section>
      <Section title="Own wood" id="own">
        <p>From a limb of one’s own trees, or wood that the group’s ledger never held.</p>
        <p className="acts">
          <ActionLink href={`/g/${slug}/grafts/new?own=1${whom}`}>Record own wood</ActionLink>
        </p>
      </Section>
    </>
  )
}

async function OfLot({ context, slug, grower, lotId }: PartProps & { readonly lotId: string }) {
  const { db, actor, today } = context
  const wood = await usableWood(db, actor, grower.id, lotId)
  if (!wood) notFound()
  const [trees, hosts] = await Promise.all([treeChoices(db, actor), limbChoices(db, actor)])
  const form: WoodOfForm = { source: 'lot', lotId, sticks: wood.sticks, cutOn: wood.cutOn }
  return (
    <>
      <ChosenWood wood={wood} context={context} />
      <AttemptForm
        slug={slug}
        growerId={grower.name ? grower.id : null}
        wood={form}
        trees={trees}
        limbs={hosts}
        today={today}
      />
    </>
  )
}

function ChosenWood({ wood, context }: { readonly wood: ReceivedWood; readonly context: MemberContext }) {
  return (
    <div className="stack-s">
      <p>
        {counted(wood.sticks, 'stick')} of <VarietyName name={wood.varietyName} />{' '}
        <span className="soft">{cropWord(wood.commonName)}</span>, <LotCode code={wood.code} />, cut{' '}
        {recordedDay(wood.cutOn, context.today)}.
      </p>
      {wood.isHeld && (
        <Notice tone="stop">
          This wood is on hold. Do not use it now. If it was grafted before, record that here and tell the
          health steward.
        </Notice>
      )}
    </div>
  )
}

async function OfOwn({ context, slug, grower }: PartProps) {
  const { db, actor, today } = context
  const [hosts, limbs, varieties, trees] = await Promise.all([
    limbChoices(db, actor),
    limbChoices(db, actor, { keeperId: grower.id }),
    varietyChoices(db, actor),
    treeChoices(db, actor),
  ])
  if (varieties.length === 0) {
    return (
      <Section title="Varieties" id="varieties">
        <Empty
          title="The group has no varieties yet"
          action={<ActionLink href={`/g/${slug}/varieties`}>See the varieties</ActionLink>}
        >
          A graft needs the name of a variety. An organiser, steward or helper adds the names.
        </Empty>
      </Section>
    )
  }
  return (
    <AttemptForm
      slug={slug}
      growerId={grower.name ? grower.id : null}
      wood={{ source: 'own', limbs, varieties }}
      trees={trees}
      limbs={hosts}
      today={today}
    />
  )
}
