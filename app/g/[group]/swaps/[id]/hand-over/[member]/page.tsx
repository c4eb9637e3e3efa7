import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { clockTime } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { PromisedItem, SettledItem } from '#app/g/[group]/swaps/_parts/hand-over-items.tsx'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { memberContext } from '#lib/access/context.ts'
import { handOverFor } from '#lib/swaps/queries.ts'
import type { ClaimView } from '#lib/swaps/view.ts'

export const metadata: Metadata = { title: 'Hand over' }

export default async function PersonAtTheTablePage(
  props: PageProps<'/g/[group]/swaps/[id]/hand-over/[member]'>,
) {
  const { group: slug, id, member: memberId } = await props.params
  const query = await props.searchParams
  const context = await memberContext(slug)
  const found = await handOverFor(context.db, context.actor, id, memberId)
  if (!found) notFound()
  const { swap, member, claims } = found
  const { timeZone } = context.group
  const list = swapHref(slug, swap.id, 'hand-over')
  const promised = claims.filter((claim) => claim.status === 'promised')
  const settled = claims.filter((claim) => claim.status !== 'promised').sort(latestFirst)
  const place = { slug, swapId: swap.id, memberId: member.id, here: `${list}/${member.id}` }
  const firstName = member.name.split(' ')[0] ?? member.name
  return (
    <GroupPage context={context} current="swaps" bare>
      <PageHead
        title={<span className="who">{member.name}</span>}
        crumb={{ href: list, label: 'Swap day' }}
        lead={stillToDo(promised, settled)}
      />
      {claims.length === 0 ? (
        <Empty title="Nothing claimed">What {firstName} takes can be recorded without a name.</Empty>
      ) : (
        <ul className="hand border-t-2 border-ink">
          {promised.map((claim) => (
            <PromisedItem
              key={claim.claimId}
              claim={claim}
              place={place}
              isFewerOpen={query['fewer'] === claim.claimId}
              isMissingOpen={query['missing'] === claim.claimId}
            />
          ))}
          {settled.map((claim) => (
            <SettledItem
              key={claim.claimId}
              claim={claim}
              place={place}
              timeZone={timeZone}
              mayUndo={swap.status !== 'finished'}
            />
          ))}
        </ul>
      )}
      <p>
        <ActionLink href={`${list}/walk-up`} kind="plain">
          Give {firstName} something not on the list
        </ActionLink>
      </p>
      <p className="soft">
        No signal? Tick the printed list and type it in tonight. Nothing here is lost: each tap is saved on
        its own.
      </p>
      <div className="bar-fixed">
        <LastSaved claim={settled[0]} timeZone={timeZone} />
        <Link className="btn second min-h-14 text-lead" href={list} prefetch={false}>
          Next person
        </Link>
      </div>
    </GroupPage>
  )
}

const latestFirst = (a: ClaimView, b: ClaimView) =>
  (b.settledAt?.getTime() ?? 0) - (a.settledAt?.getTime() ?? 0)

function stillToDo(promised: readonly ClaimView[], settled: readonly ClaimView[]): string {
  const sticks = promised.reduce((sum, claim) => sum + claim.sticks, 0)
  if (promised.length > 0) return `${promised.length} still to hand over, ${counted(sticks, 'stick')}`
  return settled.length > 0 ? 'Has everything' : 'Has claimed nothing in this swap'
}

interface LastSavedProps {
  readonly claim: ClaimView | undefined
  readonly timeZone: string
}

function LastSaved({ claim, timeZone }: LastSavedProps) {
  if (!claim?.settledAt) return <p className="note">Nothing saved yet for this person.</p>
  return (
    <p className="note" role="status">
      Last saved {clockTime(claim.settledAt, timeZone)}: {counted(claim.sticks, 'stick')} of{' '}
      <VarietyName name={claim.varietyName} />
      {claim.status === 'cancelled' && ', given back'}.
    </p>
  )
}
