import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import type { ReactNode } from 'react'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { sharedAxis } from '#app/_ui/chart-scale.ts'
import { LotCode } from '#app/_ui/code.tsx'
import { recordedDay } from '#app/_ui/dates.ts'
import { Facts } from '#app/_ui/facts.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { MiniAxis, MiniWindow } from '#app/_ui/mini-window.tsx'
import { VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { Columns, Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { OfferTally, WoodState } from '#app/g/[group]/swaps/_parts/catalogue-row.tsx'
import { ChangeClaim } from '#app/g/[group]/swaps/_parts/change-claim.tsx'
import { GiveBack } from '#app/g/[group]/swaps/_parts/give-back.tsx'
import { LimitsLine } from '#app/g/[group]/swaps/_parts/limits.tsx'
import { leftInWords, shareCount } from '#app/g/[group]/swaps/_parts/share-words.ts'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { claimingWords } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import { JoinWaitingForm, WaitingPlace } from '#app/g/[group]/swaps/_parts/waiting.tsx'
import { healthInWords, nameInWords } from '#app/g/[group]/swaps/_parts/wood-words.ts'
import { claimAction } from '#app/g/[group]/swaps/actions.ts'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { sayNoWindow, sayStanding } from '#app/g/[group]/wood/_parts/say-window.ts'
import { type MemberContext, memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { memberChoices } from '#lib/people/queries.ts'
import { getOffering } from '#lib/swaps/queries.ts'
import type { CatalogueRow, Limits, SwapView } from '#lib/swaps/view.ts'
import { waitingOf } from '#lib/swaps/waiting-rows.ts'

export const metadata: Metadata = { title: 'Claim' }

export default async function ClaimPage(props: PageProps<'/g/[group]/swaps/[id]/claim/[offering]'>) {
  const { group: slug, id, offering } = await props.params
  const context = await memberContext(slug)
  const found = await getOffering(context.db, context.actor, id, offering)
  if (!found) notFound()
  const { swap, row, limits } = found
  const { today } = context
  const crop = cropWord(row.commonName)
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title={<VarietyName name={row.varietyName} />}
        crumb={{ href: `${swapHref(slug, swap.id)}#lot-${row.code}`, label: swap.name }}
        meta={
          <>
            {crop.charAt(0).toUpperCase() + crop.slice(1)}, lot{' '}
            <LotCode code={row.code} href={`/g/${slug}/wood/${row.code}`} />, cut{' '}
            {recordedDay(row.cutOn, today)}
          </>
        }
      />
      <Columns>
        <Section id="claim" title="Claim">
          <OfferTally row={row} />
          <p>{leftInWords(row)}</p>
          <ClaimPart slug={slug} swap={swap} row={row} limits={limits} context={context} />
        </Section>
        <Section id="wood" title="The wood">
          <WoodPart row={row} swap={swap} context={context} />
        </Section>
      </Columns>
    </GroupPage>
  )
}

interface OfOffer {
  readonly slug: string
  readonly swap: SwapView
  readonly row: CatalogueRow
  readonly limits: Limits
  readonly context: MemberContext
}

/** How many shares of this lot the person can still claim. */
function mostShares(row: CatalogueRow, limits: Limits): number {
  const ofVariety = row.varietyId === null ? 0 : (limits.ofVariety[row.varietyId] ?? 0)
  return Math.max(0, Math.min(row.sharesLeft, limits.cap - limits.held, limits.capPerVariety - ofVariety))
}

async function ClaimPart(props: OfOffer): Promise<ReactNode> {
  const { slug, swap, row, context } = props
  const back = { href: swapHref(slug, swap.id), label: 'Choose other wood' }
  const said = { timeZone: context.group.timeZone, today: context.today }
  const mine = row.mine.find((claim) => claim.status === 'promised')
  const mayClaimForOthers = can(context.actor, 'act-for-others')
  const place = (await waitingOf(context.db, context.actor, swap.id)).find(
    (waits) => waits.offeringId === row.offeringId && waits.status !== 'expired',
  )
  const ownPlace = place && (
    <div className="panel">
      <WaitingPlace slug={slug} swapId={swap.id} place={place} said={said} />
    </div>
  )
  if (swap.claiming !== 'open') {
    return (
      <>
        {mine && <OwnClaim {...props} />}
        {ownPlace}
        <p>{claimingWords(swap, said)}</p>
      </>
    )
  }
  if (row.isHeld)
    return (
      <Refusal message="This wood is on hold. Nothing is given from it until it is released." next={[back]} />
    )
  if (mine && !mayClaimForOthers) return <OwnClaim {...props} />
  if (row.sharesLeft === 0) {
    return (
      <>
        {mine && <OwnClaim {...props} />}
        {ownPlace}
        {(mayClaimForOthers || !place) && (
          <JoinWaitingForm
            slug={slug}
            swap={swap}
            row={row}
            ownId={context.actor.memberId}
            others={mayClaimForOthers ? await memberChoices(context.db, context.actor) : []}
          />
        )}
      </>
    )
  }
  return (
    <>
      {mine && <OwnClaim {...props} />}
      <ClaimForm
        {...props}
        others={mayClaimForOthers ? await memberChoices(context.db, context.actor) : []}
      />
    </>
  )
}

function OwnClaim({ slug, swap, row }: OfOffer) {
  const mine = row.mine.find((claim) => claim.status === 'promised')
  if (!mine) return null
  return (
    <div className="panel">
      <p>
        <b>You claimed {shareCount(mine.shares, row.sticksPerShare)}.</b>
      </p>
      {swap.claiming === 'open' && (
        <ChangeClaim
          slug={slug}
          swapId={swap.id}
          claim={{ ...mine, code: row.code, varietyName: row.varietyName }}
        />
      )}
      <GiveBack
        slug={slug}
        swapId={swap.id}
        claimId={mine.claimId}
        varietyName={row.varietyName}
        code={row.code}
      />
    </div>
  )
}

interface ClaimFormProps extends OfOffer {
  readonly others: readonly { readonly id: string; readonly name: string; readonly hasAccount: boolean }[]
}

function ClaimForm({ slug, swap, row, limits, context, others }: ClaimFormProps) {
  const most = mostShares(row, limits)
  const { actor } = context
  if (most === 0 && others.length === 0) {
    return (
      <Refusal
        message="You hold as much as one member may."
        next={[
          { href: swapHref(slug, swap.id, 'yours'), label: 'Give something back on your list' },
          { href: swapHref(slug, swap.id), label: 'Look through the catalogue' },
        ]}
      />
    )
  }
  const isSticks = row.sticksPerShare === 1
  return (
    <ActionForm action={claimAction} values={{ shares: '1', memberId: actor.memberId }}>
      <Hidden name="group" value={slug} />
      <Hidden name="swap" value={swap.id} />
      <Hidden name="offeringId" value={row.offeringId} />
      <OnceKey value={randomUUID()} />
      {others.length > 0 && (
        <SelectField
          name="memberId"
          label="For whom"
          help="The limits of that person count."
          options={others.map(({ id, name, hasAccount }) => ({
            value: id,
            label: id === actor.memberId ? `${name} (you)` : hasAccount ? name : `${name}, no account`,
          }))}
        />
      )}
      <NumberField
        name="shares"
        label={isSticks ? 'Sticks' : `Shares of ${row.sticksPerShare} sticks`}
        help={`${most === 0 ? 'You hold as much as one member may.' : `You can claim up to ${most} here.`} One stick can make two or more grafts.`}
        min={1}
        max={Math.max(1, row.sharesLeft)}
      />
      <TextField
        name="purpose"
        label="What will you put it on?"
        help="A stock, a tree, a limb. It helps the group see where wood goes; only you and the people at the door see it. May be left empty."
        maxLength={200}
      />
      <div className="acts">
        <SubmitButton pending="Claiming">Claim</SubmitButton>
        <ActionLink href={`${swapHref(slug, swap.id)}#lot-${row.code}`} kind="plain">
          Not now
        </ActionLink>
      </div>
      <div className="panel quiet">
        <LimitsLine limits={limits} />
      </div>
    </ActionForm>
  )
}

function WoodPart({ row, swap, context }: Pick<OfOffer, 'row' | 'swap' | 'context'>) {
  const { today } = context
  const { window, cutOn } = row
  return (
    <>
      <p>
        <WoodState row={row} />{' '}
        {window.kind === 'window' ? sayStanding(window, { cut: cutOn, today }) : sayNoWindow(window.why)}
      </p>
      {window.kind === 'window' && (
        <div>
          <MiniAxis
            axis={sharedAxis([{ cut: cutOn, late: window.late }], today, swap.heldOn)}
            today={today}
            swap={swap.heldOn}
          />
          <MiniWindow
            axis={sharedAxis([{ cut: cutOn, late: window.late }], today, swap.heldOn)}
            today={today}
            swap={swap.heldOn}
            cut={cutOn}
            window={window}
          />
        </div>
      )}
      <Facts
        items={[
          ['Name', nameInWords(row)],
          ['Health', healthInWords(row)],
          row.varietyNote !== null && ['Variety', row.varietyNote],
          row.note !== null && ['On the day', row.note],
          row.sticksPerShare > 1 && ['A share', counted(row.sticksPerShare, 'stick')],
        ]}
      />
      <p className="note">
        No promise of health: wood can carry disease that nobody sees in winter. Wipe your tools between
        trees.
      </p>
    </>
  )
}
