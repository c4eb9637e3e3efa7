import type { Metadata } from 'next'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { seasonName } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { Pages } from '#app/g/[group]/wood/_parts/pages.tsx'
import { WindowKey } from '#app/g/[group]/wood/_parts/window-key.tsx'
import { WoodFilters } from '#app/g/[group]/wood/_parts/wood-filters.tsx'
import { type WoodAddress, woodHref } from '#app/g/[group]/wood/_parts/wood-links.ts'
import { WoodLots } from '#app/g/[group]/wood/_parts/wood-table.tsx'
import { memberContext } from '#lib/access/context.ts'
import { listWood } from '#lib/wood/queries.ts'
import { type WoodList, woodSorts, woodStates } from '#lib/wood/view.ts'

export const metadata: Metadata = { title: 'Wood' }

type Query = Readonly<Record<string, string | string[] | undefined>>

const text = (value: string | string[] | undefined) =>
  typeof value === 'string' && value !== '' ? value : undefined
const whole = (value: string | string[] | undefined) => {
  const number = Number(text(value))
  return Number.isInteger(number) && number > 0 && number < 9999 ? number : undefined
}

const addressOf = (query: Query): WoodAddress => ({
  state: woodStates.find((state) => state === query['state']),
  sort: woodSorts.find((sort) => sort === query['sort']),
  crop: text(query['crop']),
  store: text(query['store']),
  season: whole(query['season']),
  page: whole(query['page']),
})

function totals({ counts, season }: WoodList): string {
  const { lots, kept, sticksCut, sticksFree, sticksPromised } = counts
  return `${counted(kept, 'lot')} in store: ${counted(sticksFree, 'stick')} free, ${sticksPromised} claimed. Season ${seasonName(season)}: ${counted(lots, 'lot')}, ${counted(sticksCut, 'stick')} cut.`
}

const orderWords = {
  first: 'What must be used first is at the top.',
  latest: 'The latest cut is at the top.',
  name: 'By name.',
}

export default async function WoodPage(props: PageProps<'/g/[group]/wood'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const address = addressOf(await props.searchParams)
  const list = await listWood(context.db, context.actor, address)
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title="Wood"
        meta={`${totals(list)} ${orderWords[list.sort]}`}
        acts={
          <>
            <ActionLink href={`/g/${slug}/wood/log`} kind="first">
              Log a cutting session
            </ActionLink>
            <ActionLink href={`/g/${slug}/wood/stores`}>Stores</ActionLink>
            <ActionLink href="/window" kind="plain">
              How long would wood keep?
            </ActionLink>
          </>
        }
      />
      {list.counts.lots > 0 && <WoodFilters slug={slug} list={list} address={address} />}
      {list.lots.length === 0 ? (
        <NothingHere slug={slug} list={list} />
      ) : (
        <>
          <WoodLots
            slug={slug}
            rows={list.lots}
            today={list.today}
            swapDay={list.swapDay}
            caption={`Lots of wood. ${orderWords[list.sort]}`}
            isByLimit={list.sort === 'first'}
          />
          <Pages page={list.page} pages={list.pages} href={(page) => woodHref(slug, { ...address, page })} />
          <WindowKey />
        </>
      )}
    </GroupPage>
  )
}

function NothingHere({ slug, list }: { readonly slug: string; readonly list: WoodList }) {
  if (list.counts.lots > 0) {
    return (
      <Empty
        title="No lots here"
        action={
          <ActionLink href={woodHref(slug, { season: list.season })}>Show all wood in store</ActionLink>
        }
      >
        No lot of this season is what you asked for.
      </Empty>
    )
  }
  const earlier = list.seasons.find((season) => season < list.season)
  return (
    <Empty
      title={`No wood logged in season ${seasonName(list.season)}`}
      action={
        earlier !== undefined && (
          <ActionLink href={woodHref(slug, { season: earlier, state: 'all' })}>
            Show {seasonName(earlier)}
          </ActionLink>
        )
      }
    >
      The first lots usually come in December, once the leaves are off and the wood is dormant.
    </Empty>
  )
}
