import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import type { ReactNode } from 'react'
import { LotCode } from '#app/_ui/code.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { NotForYou } from '#app/g/[group]/swaps/_parts/not-for-you.tsx'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { type ReviewedLot, reviewSwap } from '#lib/swaps/review-swap.ts'

export const metadata: Metadata = { title: 'Looking back' }

export default async function SwapReviewPage(props: PageProps<'/g/[group]/swaps/[id]/review'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  if (!can(context.actor, 'hand-over')) {
    return (
      <GroupPage context={context} current="swaps">
        <PageHead title="Looking back" />
        <NotForYou
          right="hand-over"
          back={{ href: swapHref(slug, id, 'yours'), label: 'To your own list' }}
        />
      </GroupPage>
    )
  }
  const review = await reviewSwap(context.db, context.actor, id)
  if (!review) notFound()
  const { swap, shortages, neverClaimed, unreconciled, donors, lastCopies } = review
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title="Looking back"
        crumb={{ href: swapHref(slug, swap.id), label: swap.name }}
        meta="What was short, what nobody wanted, and whom to thank: the beginning of next year’s call for wood."
      />
      <Part
        id="unreconciled"
        title="Sticks without an end"
        none="Every stick of this swap has its place."
        count={unreconciled.length}
      >
        {unreconciled.map((lot) => (
          <LotItem key={lot.code} slug={slug} lot={lot}>
            {lot.inStore > 0 && `${counted(lot.inStore, 'stick')} in the store. `}
            {lot.promised > 0 && `${counted(lot.promised, 'stick')} promised and not handed over.`}
          </LotItem>
        ))}
      </Part>
      <Part
        id="short"
        title="Wanted and not had"
        none="Nobody went without what they asked for."
        count={shortages.length}
      >
        {shortages.map(({ varietyName, people }) => (
          <li key={varietyName}>
            <VarietyName name={varietyName} />: {people === 1 ? '1 person' : `${people} people`} had none
          </li>
        ))}
      </Part>
      <Part
        id="unclaimed"
        title="Never claimed"
        none="Something of every lot was claimed."
        count={neverClaimed.length}
      >
        {neverClaimed.map((lot) => (
          <LotItem key={lot.code} slug={slug} lot={lot} />
        ))}
      </Part>
      <Part
        id="last"
        title="On one living limb only"
        none="Every named variety stands on more than one limb."
        count={lastCopies.length}
      >
        {lastCopies.map(({ varietyName, treeCode }) => (
          <li key={varietyName}>
            <VarietyName name={varietyName} /> on tree{' '}
            <LotCode code={treeCode} href={`/g/${slug}/trees/${treeCode}`} />
          </li>
        ))}
      </Part>
      <Part id="thanks" title="To thank for their wood" none="No wood was on offer." count={donors.length}>
        {donors.map(({ memberId, name, lots }) => (
          <li key={memberId}>
            {name}, for {counted(lots, 'lot')}
          </li>
        ))}
      </Part>
    </GroupPage>
  )
}

interface PartProps {
  readonly id: string
  readonly title: string
  readonly count: number
  /** What is said when there is nothing. */
  readonly none: string
  readonly children: ReactNode
}

function Part({ id, title, count, none, children }: PartProps) {
  return (
    <Section id={id} title={title}>
      {count === 0 ? <p className="soft">{none}</p> : <ul className="rows">{children}</ul>}
    </Section>
  )
}

interface LotItemProps {
  readonly slug: string
  readonly lot: ReviewedLot
  readonly children?: ReactNode
}

function LotItem({ slug, lot, children }: LotItemProps) {
  return (
    <li>
      <p>
        <VarietyName name={lot.varietyName} />{' '}
        <LotCode code={lot.code} href={`/g/${slug}/wood/${lot.code}`} />
      </p>
      {children && <p className="note">{children}</p>}
    </li>
  )
}
