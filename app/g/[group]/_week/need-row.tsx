import type { ReactNode } from 'react'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { LotCode } from '#app/_ui/code.tsx'
import { clockTime, dayMonth, longDay, recordedDay } from '#app/_ui/dates.ts'
import { counted, numeral } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { NeedsRow } from '#app/_ui/rows.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { WoodNames } from '#app/g/[group]/_week/wood-names.tsx'
import { AttemptTitle } from '#app/g/[group]/grafts/_parts/attempt-title.tsx'
import { lookWords, pieceWords } from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import { assertNever } from '#lib/kernel/assert.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { Need } from '#lib/week/need.ts'

interface NeedRowProps {
  readonly need: Need
  readonly slug: string
  readonly today: CivilDate
  readonly timeZone: string
  /** The first of the page has the solid button. */
  readonly isFirst: boolean
}

interface Said {
  readonly words: ReactNode
  readonly href: string
  readonly label: string
}

type Where = Pick<NeedRowProps, 'slug' | 'today' | 'timeZone'>

/** "Since Tue 2 Feb", "Today", "By Sun 14 Feb". */
function whenWords({ by, isLate }: Need, today: CivilDate): string {
  if (by === null) return 'When you can'
  if (isLate || by < today) return `Since ${recordedDay(by, today)}`
  return by === today ? 'Today' : `By ${recordedDay(by, today)}`
}

/** One thing that waits: when, what, and the way to it. */
export function NeedRow({ need, isFirst, ...where }: NeedRowProps) {
  const { words, href, label } = said(need, where)
  return (
    <NeedsRow
      when={whenWords(need, where.today)}
      late={need.isLate}
      action={
        <ActionLink href={href} kind={isFirst ? 'first' : 'second'} small>
          {label}
        </ActionLink>
      }
    >
      {words}
    </NeedsRow>
  )
}

function said(need: Need, where: Where): Said {
  switch (need.kind) {
    case 'claims-will-open':
    case 'claims-close':
    case 'open-the-swap':
    case 'collect':
    case 'hand-over':
    case 'finish-the-swap':
      return ofSwap(need, where)
    case 'wood-near-limit':
    case 'wood-in-hand':
    case 'wood-without-name':
      return ofWood(need, where)
    case 'look':
    case 'more-looks':
      return ofLook(need, where)
    case 'care':
      return ofCare(need, where)
    case 'holds':
    case 'disease-reported':
      return ofHealth(need, where)
    case 'not-joined':
      return {
        words: (
          <p>
            <b>{numeral(need.people)} invited and not here yet.</b>
            {need.expired > 0 && ` ${counted(need.expired, 'invitation has', 'invitations have')} run out.`}
          </p>
        ),
        href: `/g/${where.slug}/people#invited`,
        label: 'See who',
      }
    default:
      return assertNever(need)
  }
}

type OfKind<Kind extends Need['kind']> = Extract<Need, { kind: Kind }>
type SwapNeed = OfKind<
  'claims-will-open' | 'claims-close' | 'open-the-swap' | 'collect' | 'hand-over' | 'finish-the-swap'
>

function ofSwap(need: SwapNeed, { slug, today, timeZone }: Where): Said {
  const { swap } = need
  const path = `/g/${slug}/swaps/${swap.id}`
  const day = longDay(swap.heldOn, today)
  switch (need.kind) {
    case 'claims-will-open':
      return {
        words: (
          <p>
            <b>Claims for {swap.name} open</b> at {clockTime(need.at, timeZone)}. See what is on the table.
          </p>
        ),
        href: path,
        label: 'See the lots',
      }
    case 'claims-close':
      return {
        words: (
          <p>
            <b>Claims for {swap.name} close</b> at {clockTime(need.at, timeZone)}.{' '}
            {need.claims > 0
              ? `You have claimed ${counted(need.sticks, 'stick')}.`
              : 'You have claimed nothing so far.'}
          </p>
        ),
        href: path,
        label: need.claims > 0 ? 'See the lots' : 'Claim wood',
      }
    case 'open-the-swap':
      return {
        words: (
          <p>
            <b>Open {swap.name}.</b> Its claims should have begun; nobody can claim until it is opened.
          </p>
        ),
        href: `${path}/settings`,
        label: 'Open it',
      }
    case 'collect':
      return {
        words: (
          <p>
            <b>{counted(need.sticks, 'stick')} promised to you.</b>{' '}
            {need.isLate
              ? `They were not collected on ${day}; tell the organiser.`
              : `Collect them at ${swap.name}, ${day}.`}
          </p>
        ),
        href: `${path}/yours`,
        label: 'See your list',
      }
    case 'hand-over':
      return {
        words: (
          <p>
            <b>Hand over at {swap.name}:</b> {counted(need.sticks, 'stick')} for{' '}
            {counted(need.people, 'person', 'people')}
            {need.isLate ? ', promised and not collected.' : '.'}
          </p>
        ),
        href: `${path}/hand-over`,
        label: 'Go to the table',
      }
    case 'finish-the-swap':
      return {
        words: (
          <p>
            <b>Finish {swap.name}.</b> Everything promised was handed over.
          </p>
        ),
        href: `${path}/settings`,
        label: 'Finish it',
      }
  }
}

function ofWood(
  need: OfKind<'wood-near-limit' | 'wood-in-hand' | 'wood-without-name'>,
  { slug, today }: Where,
): Said {
  const names = (
    <WoodNames slug={slug} wood={need.wood} today={today} showsLimit={need.kind !== 'wood-without-name'} />
  )
  switch (need.kind) {
    case 'wood-near-limit':
      return {
        words: (
          <p>
            <b>Near the likely limit, and free:</b> {names}. Use it, offer it, or nick the bark and look for
            green.
          </p>
        ),
        href: `/g/${slug}/wood?state=urgent`,
        label: 'See the wood',
      }
    case 'wood-in-hand':
      return {
        words: (
          <p>
            <b>With you and not used yet:</b> {names}. Once they are grafted or struck, say so.
          </p>
        ),
        href: `/g/${slug}/grafts/new`,
        label: 'Record a graft',
      }
    case 'wood-without-name':
      return {
        words: (
          <p>
            <b>
              {need.wood.length === 1
                ? 'A lot has no name.'
                : `${numeral(need.wood.length)} lots have no name.`}
            </b>{' '}
            {names}. It is not offered until somebody can say what it is.
          </p>
        ),
        href: `/g/${slug}/trees`,
        label: 'Name the limb',
      }
  }
}

function ofLook(need: OfKind<'look' | 'more-looks'>, { slug, today }: Where): Said {
  if (need.kind === 'more-looks') {
    return {
      words: <p>{counted(need.count, 'more batch has', 'more batches have')} a look due.</p>,
      href: `/g/${slug}/grafts`,
      label: 'See them',
    }
  }
  const { attempt, look } = need.due
  const [, many] = pieceWords(attempt.method)
  return {
    words: (
      <p>
        <b>{lookWords[look.name]}:</b> <AttemptTitle attempt={attempt} />, {many} of{' '}
        {recordedDay(attempt.madeOn, today)}.{' '}
        {attempt.standing ? 'How do they stand now?' : 'Alive, dead or never made: each is a useful answer.'}
      </p>
    ),
    href: `/g/${slug}/grafts/${attempt.id}/check`,
    label: 'Record a look',
  }
}

function ofCare({ title, isStrong, batches }: OfKind<'care'>, { slug, today }: Where): Said {
  const [first] = batches
  const isOne = batches.length === 1 && first
  return {
    words: (
      <p>
        {isStrong && <StateWord kind="hold">May strangle</StateWord>} <b>{title}:</b>{' '}
        {isOne ? (
          <>
            <AttemptTitle attempt={first} />, made {recordedDay(first.madeOn, today)}.
          </>
        ) : (
          `${counted(batches.length, 'batch', 'batches')} of yours.`
        )}
      </p>
    ),
    href: isOne ? `/g/${slug}/grafts/${first.attemptId}#care` : `/g/${slug}/grafts#care`,
    label: isOne ? 'See the care' : 'See them',
  }
}

function ofHealth(need: OfKind<'holds' | 'disease-reported'>, { slug, today }: Where): Said {
  if (need.kind === 'disease-reported') {
    return {
      words: (
        <p>
          <b>Disease reported</b> on {need.pieces} of <VarietyName name={need.varietyName} /> by{' '}
          {need.growerName}, seen {recordedDay(need.seenOn, today)}. Does the wood it came from need a hold?
        </p>
      ),
      href: `/g/${slug}/grafts/${need.attemptId}`,
      label: 'Read the report',
    }
  }
  const [first] = need.holds
  return {
    words:
      need.holds.length === 1 && first ? (
        <p>
          <b>On hold:</b>{' '}
          {first.on === 'lot' ? (
            <LotCode code={first.code} href={`/g/${slug}/wood/${first.code}`} />
          ) : (
            <>
              a limb of tree <LotCode code={first.code} href={`/g/${slug}/trees/${first.code}`} />
            </>
          )}
          {first.varietyName && (
            <>
              , <VarietyName name={first.varietyName} />
            </>
          )}
          , since {dayMonth(first.placedOn)}: {first.reason.replace(/[.\s]+$/, '')}. Nothing is given from it.
        </p>
      ) : (
        <p>
          <b>{numeral(need.holds.length)} health holds are open.</b> Nothing is given from that wood.
        </p>
      ),
    href: `/g/${slug}/health`,
    label: 'See the holds',
  }
}
