import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { NotForYou } from '#app/g/[group]/swaps/_parts/not-for-you.tsx'
import { OfferForm } from '#app/g/[group]/swaps/_parts/offer-form.tsx'
import { OfferedLots } from '#app/g/[group]/swaps/_parts/offered-lots.tsx'
import { oneText, swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { getCatalogue } from '#lib/swaps/queries.ts'
import { offerableLots } from '#lib/wood/queries.ts'

export const metadata: Metadata = { title: 'Offer lots' }

const doneWords: Readonly<Record<string, string>> = {
  planned: 'The swap is planned. Offer lots in it, then open it on its settings page.',
  offered: 'Offered. Members see them in the catalogue.',
  changed: 'The offer is changed.',
  withdrawn: 'Withdrawn. The lot is in the list below again.',
}

export default async function OfferPage(props: PageProps<'/g/[group]/swaps/[id]/offer'>) {
  const { group: slug, id } = await props.params
  const query = await props.searchParams
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const catalogue = await getCatalogue(db, actor, id)
  if (!catalogue) notFound()
  const { swap, rows } = catalogue
  const back = { href: swapHref(slug, swap.id), label: swap.name }
  const head = (
    <PageHead title="Offer lots" crumb={back} meta="Lots with sticks in a store, in shares of so many." />
  )
  if (!can(actor, 'offer-any-lot') || swap.status === 'finished') {
    return (
      <GroupPage context={context} current="swaps">
        {head}
        {swap.status === 'finished' ? (
          <Refusal message="This swap is finished. Nothing is offered in it any more." next={[back]} />
        ) : (
          <NotForYou right="offer-any-lot" back={back} />
        )}
      </GroupPage>
    )
  }
  const offered = new Set(rows.map((row) => row.lotId))
  const lots = (await offerableLots(db, actor)).filter((lot) => !offered.has(lot.lotId))
  const notice = doneWords[oneText(query['done']) ?? '']
  return (
    <GroupPage context={context} current="swaps">
      {head}
      {notice && <Notice>{notice}</Notice>}
      <OfferForm
        slug={slug}
        swapId={swap.id}
        lots={lots}
        today={today}
        mayOverride={can(actor, 'override-protection')}
      />
      {rows.length > 0 && (
        <Section id="offered" title="Offered already">
          <OfferedLots slug={slug} swapId={swap.id} rows={rows} />
        </Section>
      )}
    </GroupPage>
  )
}
