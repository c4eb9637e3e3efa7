import type { Metadata } from 'next'
import Link from 'next/link'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { labelDay, recordedDay } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { counted, type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { memberContext } from '#lib/access/context.ts'
import { civilDateIn } from '#lib/kernel/civil-date.ts'
import { listStores, type StoreRow } from '#lib/wood/store-queries.ts'
import { storeKindWord } from '#lib/wood/words.ts'

export const metadata: Metadata = { title: 'Stores' }

export default async function StoresPage(props: PageProps<'/g/[group]/wood/stores'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const stores = await listStores(context.db, context.actor)
  const unit = context.person.fahrenheit ? 'F' : 'C'
  const open = stores.filter((store) => store.closedOn === null)
  const closed = stores.filter((store) => store.closedOn !== null)
  const line = (store: StoreRow) => (
    <StoreLine
      key={store.storeId}
      slug={slug}
      store={store}
      unit={unit}
      lastRead={
        store.lastReading &&
        recordedDay(civilDateIn(context.group.timeZone, store.lastReading.at), context.today)
      }
    />
  )
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title="Stores"
        crumb={{ href: `/g/${slug}/wood`, label: 'Wood' }}
        meta="Fridges, cellars and sheds where wood is kept. A temperature that somebody read makes every window narrower."
        acts={
          <ActionLink href={`/g/${slug}/wood/stores/new`} kind="first">
            Add a store
          </ActionLink>
        }
      />
      {open.length === 0 ? (
        <Empty title="No store yet">Add the fridge or cellar that the first wood goes into.</Empty>
      ) : (
        <ul className="rows">{open.map(line)}</ul>
      )}
      {closed.length > 0 && (
        <Section id="closed" title="No longer used">
          <ul className="rows">{closed.map(line)}</ul>
        </Section>
      )}
    </GroupPage>
  )
}

interface StoreLineProps {
  readonly slug: string
  readonly store: StoreRow
  readonly unit: TemperatureUnit
  readonly lastRead: string | null
}

function StoreLine({ slug, store, unit, lastRead }: StoreLineProps) {
  const noted =
    store.typedCelsius === null ? 'temperature not noted' : `${temperature(store.typedCelsius, unit)} noted`
  return (
    <li className="flex flex-wrap items-baseline justify-between gap-x-4">
      <span>
        <Link href={`/g/${slug}/wood/stores/${store.storeId}`} prefetch={false} className="tap">
          {store.name}
        </Link>
        <br />
        <span className="note">
          {storeKindWord(store.kind)}
          {store.keeperName && `, ${store.keeperName}`}; {noted}
          {store.lastReading &&
            lastRead &&
            `; last read ${lastRead}: ${temperature(store.lastReading.celsius, unit)}`}
          {store.closedOn && `; closed ${labelDay(store.closedOn)}`}
        </span>
      </span>
      <span className="nb">
        {store.lots === 0 ? 'empty' : `${counted(store.lots, 'lot')}, ${counted(store.sticks, 'stick')}`}
      </span>
    </li>
  )
}
