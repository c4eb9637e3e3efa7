import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import type { ComponentProps } from 'react'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { LotCode } from '#app/_ui/code.tsx'
import { recordedDay } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { Facts } from '#app/_ui/facts.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { AttemptTitle } from '#app/g/[group]/grafts/_parts/attempt-title.tsx'
import {
  livingWord,
  ontoWords,
  pieceWords,
  skillChoices,
} from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import { CareList } from '#app/g/[group]/grafts/_parts/care-list.tsx'
import { CheckHistory } from '#app/g/[group]/grafts/_parts/check-history.tsx'
import { LooksLadder } from '#app/g/[group]/grafts/_parts/looks-ladder.tsx'
import { WithdrawForm } from '#app/g/[group]/grafts/_parts/withdraw-form.tsx'
import { DoneNotice } from '#app/g/[group]/people/_parts/done-notice.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { lotHref } from '#app/g/[group]/wood/_parts/wood-links.ts'
import { memberContext } from '#lib/access/context.ts'
import { getAttempt } from '#lib/attempts/queries.ts'
import type { AttemptDetail } from '#lib/attempts/view.ts'
import { careOfAttempt } from '#lib/care/queries.ts'
import { wraps } from '#lib/grafting/care-schedule.ts'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import { GroupPage } from '../../_frame/group-page.tsx'

export const metadata: Metadata = { title: 'Graft' }

const notices = {
  recorded: 'The batch is on record. We will ask for a first look when there should be something to see.',
  looked: 'The look is on record.',
  care: 'Your answer is on record.',
  'photo-removed': 'The photo is gone.',
  withdrawn: 'The entry was withdrawn and counts nowhere; its sticks are back where they were.',
}

export default async function GraftPage(props: PageProps<'/g/[group]/grafts/[id]'>) {
  const [{ group: slug, id }, { done }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const attempt = await getAttempt(db, actor, id)
  if (!attempt) notFound()
  const care = await careOfAttempt(db, actor, id)
  const isOwn = attempt.grower.id === actor.memberId
  const [one, many] = pieceWords(attempt.method)
  return (
    <GroupPage context={context} current="grafts">
      <DoneNotice done={done} words={notices} />
      <PageHead
        title={<AttemptTitle attempt={attempt} />}
        crumb={{
          href: isOwn ? `/g/${slug}/grafts` : `/g/${slug}/grafts?for=${attempt.grower.id}`,
          label: isOwn ? 'My grafts' : `Grafts of ${attempt.grower.name}`,
        }}
        meta={`${counted(attempt.pieces, one, many)} by ${attempt.grower.name}, ${attempt.method.name.toLowerCase()}, ${recordedDay(attempt.madeOn, today)}`}
        lead={leadOf(attempt)}
        acts={
          !attempt.withdrawn && (
            <ActionLink href={`/g/${slug}/grafts/${id}/check`} kind="first">
              Record a look
            </ActionLink>
          )
        }
      />
      {attempt.withdrawn && (
        <Notice tone="stop">{`This entry was withdrawn and counts nowhere: ${attempt.withdrawn.reason}`}</Notice>
      )}
      {attempt.isHeld && (
        <Notice tone="stop">
          The wood of this batch is on hold. Look closely at what grew from it, take no wood from it, and tell
          the health steward what you see.
        </Notice>
      )}
      {!attempt.withdrawn && (
        <Section title="Looks to come and done" id="looks">
          <LooksLadder attempt={attempt} today={today} />
        </Section>
      )}
      <Section title="What was seen" id="seen">
        {attempt.checks.length > 0 ? (
          <CheckHistory slug={slug} attempt={attempt} today={today} />
        ) : (
          <Empty title="Nobody has looked yet">
            {`Until then it is counted as still waiting, neither as ${livingWord(attempt.method)} nor as failed.`}
          </Empty>
        )}
      </Section>
      {care.length > 0 && (
        <Section title="Care" id="care">
          <CareList
            slug={slug}
            attemptId={attempt.id}
            care={care}
            today={today}
            mayAnswer={attempt.mayChange}
          />
        </Section>
      )}
      <Section title="What was made" id="made">
        <AttemptFacts attempt={attempt} slug={slug} today={today} />
      </Section>
      {attempt.mayChange && !attempt.withdrawn && (
        <Section title="What became of it" id="became">
          <Became attempt={attempt} slug={slug} />
          <WithdrawForm slug={slug} attempt={attempt} />
        </Section>
      )}
    </GroupPage>
  )
}

function leadOf({ standing, method, pieces, withdrawn }: AttemptDetail): string | undefined {
  if (withdrawn) return undefined
  if (!standing) return 'Still waiting for a first look.'
  const unknown = standing.unknown > 0 ? `, ${standing.unknown} not known` : ''
  return `${standing.alive} of ${pieces} ${livingWord(method)}, ${standing.dead} dead${unknown}.`
}

type FactItem = ComponentProps<typeof Facts>['items'][number]

interface FactsProps {
  readonly attempt: AttemptDetail
  readonly slug: string
  readonly today: CivilDate
}

function AttemptFacts({ attempt, slug, today }: FactsProps) {
  const { lot, ownLimb } = attempt
  const skill = skillChoices.find(({ value }) => value === attempt.skill)
  return (
    <Facts
      items={[
        [
          'Variety',
          <>
            <VarietyName name={attempt.varietyName} />{' '}
            <span className="soft">{cropWord(attempt.commonName)}</span>
          </>,
        ],
        lot && [
          'Wood',
          <>
            {counted(attempt.sticksUsed, 'stick')} of{' '}
            <LotCode code={lot.code} href={lotHref(slug, lot.code)} />,{' '}
            {daysBetween(lot.cutOn, attempt.madeOn)} days from cutting
          </>,
        ],
        ownLimb && [
          'Wood',
          <>
            own, limb {ownLimb.mark} of tree{' '}
            <LotCode code={ownLimb.treeCode} href={`/g/${slug}/trees/${ownLimb.treeCode}`} />
          </>,
        ],
        !lot && !ownLimb && ['Wood', 'not from the group’s ledger'],
        ['How', attempt.method.name],
        attempt.treatment !== null && ['Set apart by', attempt.treatment],
        attempt.wrap !== null && ['Held by', wraps.find(({ key }) => key === attempt.wrap)?.name],
        ...cuttingFacts(attempt),
        ['Onto', ontoWords(attempt) ?? 'not said'],
        ['Made', recordedDay(attempt.madeOn, today)],
        skill && attempt.skill !== 'not_said' && ['Hand', skill.label],
        attempt.batch && ['In that morning’s work', `number ${attempt.batch.place} of ${attempt.batch.of}`],
        attempt.note !== null && ['Note', attempt.note],
        attempt.recordedBy !== attempt.grower.name && ['Entered by', attempt.recordedBy],
      ]}
    />
  )
}

function cuttingFacts({ nodes, bottomHeatC, hormone }: AttemptDetail): FactItem[] {
  return [
    nodes !== null && ['Nodes of each', nodes],
    bottomHeatC !== null && ['Warmth from below', `${bottomHeatC} °C`],
    hormone !== null && ['Rooting hormone', hormone ? 'yes' : 'no'],
  ]
}

function Became({ attempt, slug }: { readonly attempt: AttemptDetail; readonly slug: string }) {
  if (attempt.limbs.length > 0) {
    return (
      <p>
        {attempt.limbs.map(({ treeCode, mark }, i) => (
          <span key={`${treeCode} ${mark}`}>
            {i > 0 && ', '}
            Limb {mark} of tree <LotCode code={treeCode} href={`/g/${slug}/trees/${treeCode}`} />
          </span>
        ))}
        .
      </p>
    )
  }
  if (!attempt.standing || attempt.standing.alive === 0) return null
  return (
    <p>
      Once it grows on, give it a place among the trees, so that its wood can be traced:{' '}
      {attempt.hostTreeCode ? (
        <Link href={`/g/${slug}/trees/${attempt.hostTreeCode}/limb?attempt=${attempt.id}`}>
          add it as a limb of that tree
        </Link>
      ) : (
        <Link href={`/g/${slug}/trees/new?attempt=${attempt.id}`}>add it as a tree</Link>
      )}
      .
    </p>
  )
}
