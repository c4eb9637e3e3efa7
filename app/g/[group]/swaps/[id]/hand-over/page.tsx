import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { LotCode } from '#app/_ui/code.tsx'
import { clockTime } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { CheckInForm } from '#app/g/[group]/swaps/_parts/check-in-form.tsx'
import { LiveDay } from '#app/g/[group]/swaps/_parts/live-day.tsx'
import { NotForYou } from '#app/g/[group]/swaps/_parts/not-for-you.tsx'
import { oneText, swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { type DayCounts, type DayLot, type DayPerson, runDay } from '#lib/swaps/run-day.ts'

export const metadata: Metadata = { title: 'Swap day' }

export default async function HandOverPage(props: PageProps<'/g/[group]/swaps/[id]/hand-over'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  if (!can(context.actor, 'hand-over')) {
    return (
      <GroupPage context={context} current="swaps">
        <PageHead title="Hand over" />
        <NotForYou
          right="hand-over"
          back={{ href: swapHref(slug, id, 'yours'), label: 'To your own list' }}
        />
      </GroupPage>
    )
  }
  const search = oneText((await props.searchParams)['search'])
  const day = await runDay(context.db, context.actor, id, search)
  if (!day) notFound()
  const { swap, people, lot } = day
  const to = (page: string) => swapHref(slug, swap.id, page)
  const here =
    search === undefined ? to('hand-over') : `${to('hand-over')}?search=${encodeURIComponent(search)}`
  const waiting = people.filter((person) => person.claimsPromised > 0)
  const done = people.filter((person) => person.claimsPromised === 0)
  const timeZone = context.group.timeZone
  return (
    <GroupPage context={context} current="swaps" bare>
      <PageHead
        title="Swap day"
        crumb={{ href: swapHref(slug, swap.id), label: swap.name }}
        lead={<Counts counts={day.counts} />}
      />
      <form method="get" action={to('hand-over')} className="flex flex-wrap items-end gap-3">
        <TextField
          name="search"
          type="search"
          label="A name, or the code on a bag or a stick"
          defaultValue={search}
        />
        <button type="submit" className="btn second min-h-14">
          Find
        </button>
        {search !== undefined && <ActionLink href={to('hand-over')}>Everybody</ActionLink>}
      </form>
      <LiveDay from={to('hand-over/version')} version={day.version} here={here} />
      {lot && <FoundLot lot={lot} slug={slug} to={to} />}
      {people.length === 0 && !lot ? (
        <NobodyHere search={search} walkUp={to('hand-over/walk-up')} />
      ) : (
        <ul className="hand border-t-2 border-ink">
          {[...waiting, ...done].map((person) => (
            <PersonRow
              key={person.memberId}
              slug={slug}
              swapId={swap.id}
              person={person}
              timeZone={timeZone}
            />
          ))}
        </ul>
      )}
      <p className="acts">
        <ActionLink href={to('hand-over/walk-up')}>Sticks taken without a claim</ActionLink>
        <ActionLink href={to('print')} kind="plain">
          Papers of the day
        </ActionLink>
      </p>
    </GroupPage>
  )
}

function Counts({ counts }: { readonly counts: DayCounts }) {
  const { came, waiting, sticksPromised, sticksHandedOver } = counts
  return (
    <>
      {came} here, {waiting === 1 ? '1 person waits' : `${waiting} people wait`} for{' '}
      {counted(sticksPromised, 'stick')}, {sticksHandedOver} handed over
    </>
  )
}

interface PersonRowProps {
  readonly slug: string
  readonly swapId: string
  readonly person: DayPerson
  readonly timeZone: string
}

function PersonRow({ slug, swapId, person, timeZone }: PersonRowProps) {
  const { claimsPromised, sticksPromised, sticksHandedOver, cameAt } = person
  return (
    <li className="flex flex-wrap items-center justify-between gap-x-6 gap-y-1 py-2">
      <div>
        <Link
          className="inline-flex min-h-14 items-center text-lead font-medium"
          href={swapHref(slug, swapId, `hand-over/${person.memberId}`)}
          prefetch={false}
        >
          {person.name}
        </Link>
        <p className="soft">
          {cameAt !== null && `Here since ${clockTime(cameAt, timeZone)}. `}
          {claimsPromised > 0
            ? `${counted(claimsPromised, 'lot')} to hand over, ${counted(sticksPromised, 'stick')}`
            : sticksHandedOver > 0
              ? 'Has everything'
              : 'Nothing claimed'}
          {sticksHandedOver > 0 && `; ${sticksHandedOver} handed over`}
        </p>
      </div>
      {cameAt === null && (
        <CheckInForm
          slug={slug}
          swapId={swapId}
          memberId={person.memberId}
          name={person.name}
          isThere={false}
        />
      )}
    </li>
  )
}

interface FoundLotProps {
  readonly lot: DayLot
  readonly slug: string
  readonly to: (page: string) => string
}

function FoundLot({ lot, slug, to }: FoundLotProps) {
  return (
    <section className="panel" aria-labelledby="found-lot">
      <h2 id="found-lot">
        <VarietyName name={lot.varietyName} />{' '}
        <LotCode code={lot.code} href={`/g/${slug}/wood/${lot.code}`} />
      </h2>
      {!lot.isOffered ? (
        <p>This lot is not on offer in this swap.</p>
      ) : lot.people.length === 0 ? (
        <p>Nobody waits for this lot.</p>
      ) : (
        <ul className="rows">
          {lot.people.map(({ memberId, name, sticks }) => (
            <li key={memberId}>
              <Link className="tap" href={to(`hand-over/${memberId}`)} prefetch={false}>
                {name}
              </Link>{' '}
              waits for {counted(sticks, 'stick')}
            </li>
          ))}
        </ul>
      )}
      {lot.isOffered && (
        <ActionLink href={`${to('hand-over/walk-up')}?search=${lot.code}`}>Taken without a claim</ActionLink>
      )}
    </section>
  )
}

function NobodyHere({ search, walkUp }: { readonly search: string | undefined; readonly walkUp: string }) {
  if (search === undefined) {
    return (
      <Empty title="No claims">Sticks that people take from the table can be recorded all the same.</Empty>
    )
  }
  return (
    <Empty
      title={`Nobody and nothing called “${search}”`}
      action={<ActionLink href={walkUp}>Sticks taken without a claim</ActionLink>}
    >
      Try a part of the name, or all six characters of the code. A person who is not in the group yet takes
      sticks without a name.
    </Empty>
  )
}
