import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { labelDay } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { Tick } from '#app/_ui/form/pick-group.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { counted, type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { StoreFields } from '#app/g/[group]/wood/_parts/store-fields.tsx'
import { StoreImports, StoreReadings } from '#app/g/[group]/wood/_parts/store-readings.tsx'
import { WindowKey } from '#app/g/[group]/wood/_parts/window-key.tsx'
import { WoodLots } from '#app/g/[group]/wood/_parts/wood-table.tsx'
import { editStoreAction } from '#app/g/[group]/wood/actions.ts'
import { type MemberContext, memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { memberChoices } from '#lib/people/queries.ts'
import { getStore, type StoreView } from '#lib/wood/store-queries.ts'
import { storeReadings } from '#lib/wood/store-readings.ts'
import { storeKindWord } from '#lib/wood/words.ts'

export const metadata: Metadata = { title: 'Store' }

export default async function StorePage(props: PageProps<'/g/[group]/wood/stores/[id]'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  const store = await getStore(context.db, context.actor, id)
  if (!store) notFound()
  const read = await storeReadings(context.db, context.actor, store)
  const { done, readings } = await props.searchParams
  const notice = typeof done === 'string' ? doneWords(done, Number(readings)) : null
  const unit = context.person.fahrenheit ? 'F' : 'C'
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title={store.name}
        crumb={{ href: `/g/${slug}/wood/stores`, label: 'Stores' }}
        meta={describe(store, unit)}
      />
      {notice && <Notice>{notice}</Notice>}
      <Section id="lots" title="What is in it">
        {store.lots.length === 0 ? (
          <Empty title="Nothing at the moment">
            Wood comes here when a session is logged or a lot is moved.
          </Empty>
        ) : (
          <>
            <WoodLots
              slug={slug}
              rows={store.lots}
              today={store.today}
              swapDay={store.swapDay}
              caption={`Lots in ${store.name}, what must be used first at the top`}
              isByLimit
            />
            <WindowKey />
          </>
        )}
      </Section>
      <StoreReadings slug={slug} store={store} read={read} unit={unit} />
      <StoreImports slug={slug} store={store} read={read} unit={unit} />
      {store.mayKeep && <EditStore slug={slug} store={store} unit={unit} context={context} />}
    </GroupPage>
  )
}

function doneWords(done: string, readings: number): string | null {
  const many = Number.isInteger(readings) && readings > 0 ? counted(readings, 'reading') : 'The readings'
  const are = readings === 1 ? 'is' : 'are'
  switch (done) {
    case 'added':
      return 'The store is added.'
    case 'imported':
      return `${many} ${are} imported. The windows of the wood that was there follow them.`
    case 'taken-back':
      return `${many} ${are} taken back. The windows of the wood that was there are worked out again.`
    default:
      return null
  }
}

function describe(store: StoreView, unit: TemperatureUnit): string {
  const noted =
    store.typedCelsius === null
      ? 'Nobody has noted its temperature, so a range is assumed.'
      : `${temperature(store.typedCelsius, unit)} noted as its usual temperature.`
  const keeper = store.keeperName ? `, kept by ${store.keeperName}` : ''
  const closed = store.closedOn ? ` Closed ${labelDay(store.closedOn)}.` : ''
  return `${storeKindWord(store.kind)}${keeper}. ${noted}${closed}`
}

interface EditStoreProps {
  readonly slug: string
  readonly store: StoreView
  readonly unit: TemperatureUnit
  readonly context: MemberContext
}

async function EditStore({ slug, store, unit, context: { db, actor } }: EditStoreProps) {
  const keepsAny = can(actor, 'keep-stores')
  const members = await memberChoices(db, actor)
  const inUnit = store.typedCelsius === null ? '' : temperature(store.typedCelsius, unit).split(' ')[0]
  return (
    <Section id="edit" title="Change it">
      <ActionForm
        action={editStoreAction}
        values={{
          name: store.name,
          kind: store.kind,
          keeperId: store.keeperId ?? '',
          typedCelsius: (inUnit ?? '').replace('−', '-'),
          closed: store.closedOn ? 'yes' : '',
        }}
        label="Change the store"
        className="form read"
      >
        <Hidden name="group" value={slug} />
        <Hidden name="storeId" value={store.storeId} />
        <Hidden name="unit" value={unit} />
        <StoreFields
          unit={unit}
          keepers={keepsAny ? members : members.filter(({ id }) => id === actor.memberId)}
          mayLeaveKeeper={keepsAny}
        />
        <Tick name="closed" label="No longer used" note="Only once its wood is moved or gone." />
        <p>
          <SubmitButton kind="second" pending="Saving the store">
            Save the store
          </SubmitButton>
        </p>
      </ActionForm>
    </Section>
  )
}
