import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { LotCode } from '#app/_ui/code.tsx'
import { instantWords } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Section } from '#app/_ui/section.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { ChangeClaim } from '#app/g/[group]/swaps/_parts/change-claim.tsx'
import { GiveBack } from '#app/g/[group]/swaps/_parts/give-back.tsx'
import { HowLimitsWork, LimitsLine } from '#app/g/[group]/swaps/_parts/limits.tsx'
import { oneText, swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { claimingWords, type SaidIn, whenAndWhere } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import { WaitingSection } from '#app/g/[group]/swaps/_parts/waiting.tsx'
import { memberContext } from '#lib/access/context.ts'
import { memberChoices } from '#lib/people/queries.ts'
import { claimsOf } from '#lib/swaps/queries.ts'
import type { ClaimView, SwapView } from '#lib/swaps/view.ts'
import { waitingOf } from '#lib/swaps/waiting-rows.ts'

export const metadata: Metadata = { title: 'Your list' }

const doneWords: Readonly<Record<string, string>> = {
  claimed: 'The claim is made.',
  changed: 'The claim is changed.',
  waiting: 'Noted. You get a mail when it is your turn.',
  accepted: 'Accepted. It is on your list below.',
  declined: 'Declined. It is offered to the next in line.',
  left: 'You wait for it no longer.',
  'given-back': 'Given back. It goes to whoever waits for it, or is free for others.',
}

export default async function YoursPage(props: PageProps<'/g/[group]/swaps/[id]/yours'>) {
  const { group: slug, id } = await props.params
  const query = await props.searchParams
  const context = await memberContext(slug)
  const { db, actor } = context
  const asked = oneText(query['member'])
  const memberId = asked === actor.memberId ? undefined : asked
  const found = await claimsOf(db, actor, id, memberId)
  if (!found) notFound()
  const { swap, claims, limits } = found
  const places = await waitingOf(db, actor, swap.id, memberId)
  const name = memberId && (await memberChoices(db, actor)).find((member) => member.id === memberId)?.name
  if (memberId !== undefined && name === undefined) notFound()
  const said = { timeZone: context.group.timeZone, today: context.today }
  const notice = doneWords[oneText(query['done']) ?? '']
  const promised = claims.filter((claim) => claim.status === 'promised')
  const handed = claims.filter((claim) => claim.status === 'handed_over')
  const givenBack = claims.filter((claim) => claim.status === 'cancelled')
  const list = { slug, swap, said, memberId }
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title={name === undefined ? 'Your list' : `List of ${name}`}
        crumb={{ href: swapHref(slug, swap.id), label: swap.name }}
        meta={`${whenAndWhere(swap, said)}. ${claimingWords(swap, said)}`}
      />
      {notice && <Notice>{notice}</Notice>}
      <div className="panel quiet">
        <LimitsLine limits={limits} who={name === undefined ? 'You hold' : `${name} holds`} />
        <HowLimitsWork limits={limits} />
      </div>
      <WaitingSection places={places} slug={slug} swapId={swap.id} said={said} memberId={memberId} />
      {promised.length + handed.length + places.length === 0 && (
        <Empty
          title="Nothing claimed yet"
          action={<ActionLink href={swapHref(slug, swap.id)}>Look through the catalogue</ActionLink>}
        >
          What is claimed in this swap stands here, with the lot code that is on its bag.
        </Empty>
      )}
      {promised.length > 0 && (
        <Section id="promised" title="To fetch at the swap">
          <Rows>
            {promised.map((claim) => (
              <ClaimItem key={claim.claimId} claim={claim} {...list} />
            ))}
          </Rows>
        </Section>
      )}
      {handed.length > 0 && (
        <Section id="handed" title="Handed over">
          <Rows>
            {handed.map((claim) => (
              <ClaimItem key={claim.claimId} claim={claim} {...list} />
            ))}
          </Rows>
          <p className="note">
            Keep it cold and sealed until you graft. When you have grafted, tell the ledger: dead and never
            grafted it are useful answers too.
          </p>
        </Section>
      )}
      {givenBack.length > 0 && (
        <details>
          <summary>{counted(givenBack.length, 'claim')} given back</summary>
          <Rows>
            {givenBack.map((claim) => (
              <ClaimItem key={claim.claimId} claim={claim} {...list} />
            ))}
          </Rows>
        </details>
      )}
    </GroupPage>
  )
}

interface ClaimItemProps {
  readonly slug: string
  readonly swap: SwapView
  readonly said: SaidIn
  readonly memberId: string | undefined
  readonly claim: ClaimView
}

function ClaimItem({ slug, swap, said, memberId, claim }: ClaimItemProps) {
  return (
    <li className="flex flex-wrap items-start justify-between gap-x-6 gap-y-2">
      <div>
        <p>
          <VarietyName name={claim.varietyName} />{' '}
          <LotCode code={claim.code} href={`/g/${slug}/wood/${claim.code}`} />
        </p>
        <p className="note">
          <b>{counted(claim.sticks, 'stick')}</b>
          {claim.purpose !== null && ` for ${claim.purpose}`}
          {claim.note !== null && `. ${claim.note}`}
        </p>
        <p className="note">{settledWords(claim, said)}</p>
        {claim.isHeld && claim.status === 'promised' && (
          <p>
            <StateWord kind="hold">On hold: it is not handed over until it is released</StateWord>
          </p>
        )}
      </div>
      {claim.status === 'promised' && (
        <div className="stack-s">
          {swap.claiming === 'open' && (
            <ChangeClaim slug={slug} swapId={swap.id} claim={claim} memberId={memberId} />
          )}
          <GiveBack
            slug={slug}
            swapId={swap.id}
            claimId={claim.claimId}
            varietyName={claim.varietyName}
            code={claim.code}
            memberId={memberId}
          />
        </div>
      )}
    </li>
  )
}

function settledWords(claim: ClaimView, { timeZone, today }: SaidIn): string {
  const at = (instant: Date) => instantWords(instant, timeZone, today)
  if (claim.settledAt === null) return `Claimed ${at(claim.madeAt)}`
  if (claim.status === 'handed_over') return `Handed over ${at(claim.settledAt)}`
  const because = claim.givenBackBecause === null ? '' : `: ${claim.givenBackBecause}`
  return `Given back ${at(claim.settledAt)}${because}`
}
