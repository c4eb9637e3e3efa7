import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { Empty } from '#app/_ui/empty.tsx'
import { Filters } from '#app/_ui/filters.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { NotForYou } from '#app/g/[group]/swaps/_parts/not-for-you.tsx'
import { ListByPerson, ListByTable } from '#app/g/[group]/swaps/_parts/pick-lists.tsx'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { whenAndWhere } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import { PrintButton } from '#app/g/[group]/wood/_parts/print-button.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { pickList } from '#lib/swaps/door-lists.ts'

export const metadata: Metadata = { title: 'Printed lists' }

export default async function PickListPage(props: PageProps<'/g/[group]/swaps/[id]/list'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  if (!can(context.actor, 'hand-over')) {
    return (
      <GroupPage context={context} current="swaps">
        <PageHead title="Printed lists" />
        <NotForYou
          right="hand-over"
          back={{ href: swapHref(slug, id, 'yours'), label: 'To your own list' }}
        />
      </GroupPage>
    )
  }
  const list = await pickList(context.db, context.actor, id)
  if (!list) notFound()
  const { swap, claims } = list
  const byTable = (await props.searchParams)['by'] === 'table'
  const here = swapHref(slug, swap.id, 'list')
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title={byTable ? 'List by table' : 'List by person'}
        crumb={{ href: swapHref(slug, swap.id), label: swap.name }}
        meta={`${swap.name}, ${whenAndWhere(swap, { timeZone: context.group.timeZone, today: context.today })}`}
        acts={<PrintButton />}
      />
      <Filters
        label="List"
        items={[
          { href: here, label: 'By person', current: !byTable },
          { href: `${here}?by=table`, label: 'By table', current: byTable },
        ]}
      />
      {claims.length === 0 ? (
        <Empty title="No claims yet">
          The lists fill as members claim. Print them once claims are closed.
        </Empty>
      ) : byTable ? (
        <ListByTable claims={claims} />
      ) : (
        <ListByPerson claims={claims} />
      )}
    </GroupPage>
  )
}
