import type { Metadata } from 'next'
import Link from 'next/link'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { daysAway, recordedDay } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Section } from '#app/_ui/section.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { claimingWords, type SaidIn, standingWords } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { listSwaps } from '#lib/swaps/queries.ts'
import type { SwapView } from '#lib/swaps/view.ts'

export const metadata: Metadata = { title: 'Swaps' }

export default async function SwapsPage(props: PageProps<'/g/[group]/swaps'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const { db, actor, group, today } = context
  const swaps = await listSwaps(db, actor)
  const isPast = (swap: SwapView) => swap.status === 'finished' || swap.heldOn < today
  const next = swaps.filter((swap) => !isPast(swap)).reverse()
  const past = swaps.filter(isPast)
  const mayRun = can(actor, 'run-swaps')
  const said = { timeZone: group.timeZone, today }
  const plan = (
    <ActionLink href={`/g/${slug}/swaps/new`} kind="first">
      Plan a swap
    </ActionLink>
  )
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title="Swaps"
        meta="Wood that is offered, claimed, and handed over on one day."
        acts={mayRun && next.length > 0 && plan}
      />
      {next.length === 0 ? (
        <Empty title="No swap is planned" action={mayRun && plan}>
          Groups usually meet between January and March, when wood is dormant.{' '}
          {mayRun ? 'Plan one, then offer lots in it.' : 'The organiser plans it, and it will be here.'}
        </Empty>
      ) : (
        <Section id="next" title="Next">
          <SwapRows slug={slug} swaps={next} said={said} />
        </Section>
      )}
      {past.length > 0 && (
        <Section id="past" title="Past">
          <SwapRows slug={slug} swaps={past} said={said} />
        </Section>
      )}
    </GroupPage>
  )
}

interface SwapRowsProps {
  readonly slug: string
  readonly swaps: readonly SwapView[]
  readonly said: SaidIn
}

function SwapRows({ slug, swaps, said }: SwapRowsProps) {
  return (
    <Rows>
      {swaps.map((swap) => (
        <li key={swap.id} className="stack-s">
          <p className="flex flex-wrap items-baseline justify-between gap-x-4">
            <Link className="tap name" href={swapHref(slug, swap.id)} prefetch={false}>
              {swap.name}
            </Link>
            <Tag tone={swap.claiming === 'open' ? 'good' : 'plain'}>{standingWords[swap.claiming]}</Tag>
          </p>
          <p>
            {recordedDay(swap.heldOn, said.today)}, {swap.place}
            {swap.heldOn >= said.today && ` (${daysAway(said.today, swap.heldOn)})`}
          </p>
          <p className="note">
            {swap.lots === 0 ? 'No lots offered yet' : `${counted(swap.lots, 'lot')} offered`}.{' '}
            {claimingWords(swap, said)}
          </p>
        </li>
      ))}
    </Rows>
  )
}
