import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { Tick } from '#app/_ui/form/pick-group.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { NotForYou } from '#app/g/[group]/swaps/_parts/not-for-you.tsx'
import { SwapFields } from '#app/g/[group]/swaps/_parts/swap-fields.tsx'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { claimingWords } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import {
  editSwapAction,
  finishSwapAction,
  openSwapAction,
  releaseNoShowsAction,
} from '#app/g/[group]/swaps/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { noShowWallTime, wallTimesOf } from '#lib/swaps/claim-times.ts'
import { getSwap } from '#lib/swaps/queries.ts'
import type { SwapView } from '#lib/swaps/view.ts'

export const metadata: Metadata = { title: 'Settings of a swap' }

export default async function SwapSettingsPage(props: PageProps<'/g/[group]/swaps/[id]/settings'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  const swap = await getSwap(context.db, context.actor, id)
  if (!swap) notFound()
  const { timeZone } = context.group
  const back = { href: swapHref(slug, swap.id), label: swap.name }
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title="Settings of the swap"
        crumb={back}
        meta={claimingWords(swap, { timeZone, today: context.today })}
      />
      {can(context.actor, 'run-swaps') ? (
        <>
          <Standing slug={slug} swap={swap} />
          <NoShows slug={slug} swap={swap} now={context.db.now()} />
          {swap.status !== 'finished' && <Cutting slug={slug} swap={swap} />}
          {swap.status !== 'finished' && <Plan slug={slug} swap={swap} timeZone={timeZone} />}
        </>
      ) : (
        <NotForYou right="run-swaps" back={back} />
      )}
    </GroupPage>
  )
}

interface OfSwap {
  readonly slug: string
  readonly swap: SwapView
}

function Standing({ slug, swap }: OfSwap) {
  if (swap.status !== 'open') {
    return (
      <Section id="open" title={swap.status === 'planned' ? 'Open the swap' : 'Open the swap again'}>
        <p className="read">
          {swap.status === 'planned'
            ? 'Members see the lots already. Once the swap is open they can claim, between the two times below.'
            : 'For a mistake at the end of the day. What went back to its store stays there.'}
        </p>
        <ActionForm action={openSwapAction} label="Open the swap">
          <Hidden name="group" value={slug} />
          <Hidden name="swapId" value={swap.id} />
          <SubmitButton pending="Opening">
            {swap.status === 'planned' ? 'Open it' : 'Open it again'}
          </SubmitButton>
        </ActionForm>
      </Section>
    )
  }
  return (
    <Section id="finish" title="Finish the swap">
      <p className="read">
        When everybody has gone home and the printed lists are typed in. Afterwards nobody can claim here.
      </p>
      <ActionForm action={finishSwapAction} label="Finish the swap">
        <Hidden name="group" value={slug} />
        <Hidden name="swap" value={swap.id} />
        <Hidden name="swapId" value={swap.id} />
        <Tick
          name="giveBackRest"
          label="Put back what nobody fetched"
          note="Sticks that are still promised go back to their store, with the reason beside them."
        />
        <SubmitButton kind="stop" pending="Finishing">
          Finish the swap
        </SubmitButton>
      </ActionForm>
    </Section>
  )
}

function NoShows({ slug, swap, now }: OfSwap & { readonly now: Date }) {
  if (swap.status !== 'open' || swap.noShowAt === null || now < swap.noShowAt) return null
  return (
    <Section id="no-shows" title="Sticks that nobody fetched">
      <p className="read">
        {swap.noShowsReleasedAt === null
          ? 'Their time is over. What is still promised goes back by itself within a minute; or do it now.'
          : 'What nobody fetched in time has gone back. This does it again for what was promised since.'}
      </p>
      <ActionForm action={releaseNoShowsAction} label="Put back what nobody fetched in time">
        <Hidden name="group" value={slug} />
        <Hidden name="swap" value={swap.id} />
        <Hidden name="swapId" value={swap.id} />
        <OnceKey value={randomUUID()} />
        <SubmitButton kind="second" pending="Putting it back">
          Put back what nobody fetched
        </SubmitButton>
      </ActionForm>
    </Section>
  )
}

function Cutting({ slug, swap }: OfSwap) {
  return (
    <Section id="cutting" title="When to cut">
      <p className="read">
        Between which days each crop is cut so that its wood is still good on the day, to print or pass on.
      </p>
      <p>
        <ActionLink href={`${swapHref(slug, swap.id)}/settings/cutting`}>
          When to cut for this swap
        </ActionLink>
      </p>
    </Section>
  )
}

function Plan({ slug, swap, timeZone }: OfSwap & { readonly timeZone: string }) {
  return (
    <Section id="plan" title="The plan">
      <div className="read">
        <ActionForm
          action={editSwapAction}
          label="The plan"
          values={{
            name: swap.name,
            heldOn: swap.heldOn,
            place: swap.place,
            ...wallTimesOf(timeZone, swap),
            ...noShowWallTime(timeZone, swap.noShowAt),
            waitingHours: String(swap.waitingHours),
            capPerMember: String(swap.capPerMember),
            capPerVariety: String(swap.capPerVariety),
            note: swap.note ?? '',
          }}
        >
          <Hidden name="group" value={slug} />
          <Hidden name="swapId" value={swap.id} />
          <SwapFields timeZone={timeZone} />
          <p className="help">Claims that were made under other limits stand.</p>
          <SubmitButton kind={swap.status === 'open' ? 'first' : 'second'} pending="Saving the swap">
            Save the plan
          </SubmitButton>
        </ActionForm>
      </div>
    </Section>
  )
}
