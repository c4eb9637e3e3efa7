import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { clockTime } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { CheckInForm } from '#app/g/[group]/swaps/_parts/check-in-form.tsx'
import { handOverAllAction } from '#app/g/[group]/swaps/_parts/day-actions.ts'
import { PromisedItem, SettledItem } from '#app/g/[group]/swaps/_parts/hand-over-items.tsx'
import { LiveDay } from '#app/g/[group]/swaps/_parts/live-day.tsx'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { memberContext } from '#lib/access/context.ts'
import { personAtDoor } from '#lib/swaps/run-day.ts'
import type { ClaimView } from '#lib/swaps/view.ts'

export const metadata: Metadata = { title: 'Hand over' }

export default async function PersonAtTheTablePage(
  props: PageProps<'/g/[group]/swaps/[id]/hand-over/[member]'>,
) {
  const { group: slug, id, member: memberId } = await props.params
  const query = await props.searchParams
  const context = await memberContext(slug)
  const found = await personAtDoor(context.db, context.actor, id, memberId)
  if (!found) notFound()
  const { swap, member, claims, cameAt } = found
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
        meta={cameAt === null ? 'Not ticked as here yet' : `Here since ${clockTime(cameAt, timeZone)}`}
        lead={stillToDo(promised, settled)}
      />
      <LiveDay from={`${list}/version`} version={found.version} here={place.here} />
      {swap.status !== 'finished' && (
        <CheckInForm
          slug={slug}
          swapId={swap.id}
          memberId={member.id}
          name={member.name}
          isThere={cameAt !== null}
        />
      )}
      {promised.filter((claim) => !claim.isHeld).length > 1 && (
        <HandOverAll slug={slug} swapId={swap.id} memberId={member.id} claims={promised} />
      )}
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

interface HandOverAllProps {
  readonly slug: string
  readonly swapId: string
  readonly memberId: string
  readonly claims: readonly ClaimView[]
}

function HandOverAll({ slug, swapId, memberId, claims }: HandOverAllProps) {
  const free = claims.filter((claim) => !claim.isHeld)
  const sticks = free.reduce((sum, claim) => sum + claim.sticks, 0)
  return (
    <ActionForm action={handOverAllAction} className="stack" label="Hand over everything">
      <Hidden name="group" value={slug} />
      <Hidden name="swap" value={swapId} />
      <Hidden name="member" value={memberId} />
      <Hidden name="swapId" value={swapId} />
      <Hidden name="memberId" value={memberId} />
      <OnceKey value={randomUUID()} />
      <SubmitButton kind="second" block glove pending="Saving">
        Hand over all {free.length} lots, {sticks} sticks
      </SubmitButton>
    </ActionForm>
  )
}
