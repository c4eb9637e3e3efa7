import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { NotForYou } from '#app/g/[group]/swaps/_parts/not-for-you.tsx'
import { oneText, swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { handOverList } from '#lib/swaps/queries.ts'
import type { HandOverPerson } from '#lib/swaps/view.ts'

export const metadata: Metadata = { title: 'Hand over' }

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
  const list = await handOverList(context.db, context.actor, id, { search })
  if (!list) notFound()
  const { swap, people } = list
  const to = (page: string) => swapHref(slug, swap.id, page)
  const waiting = people.filter((person) => person.claimsPromised > 0)
  const done = people.filter((person) => person.claimsPromised === 0)
  return (
    <GroupPage context={context} current="swaps" bare>
      <PageHead
        title="Hand over"
        crumb={{ href: swapHref(slug, swap.id), label: swap.name }}
        lead={search === undefined ? leftToDo(people) : undefined}
      />
      <form method="get" action={to('hand-over')} className="flex flex-wrap items-end gap-3">
        <TextField name="search" type="search" label="Find a person by name" defaultValue={search} />
        <button type="submit" className="btn second min-h-12">
          Find
        </button>
        {search !== undefined && <ActionLink href={to('hand-over')}>Everybody</ActionLink>}
      </form>
      {people.length === 0 ? (
        <NobodyHere search={search} walkUp={to('hand-over/walk-up')} />
      ) : (
        <ul className="hand border-t-2 border-ink">
          {[...waiting, ...done].map((person) => (
            <PersonRow key={person.memberId} person={person} href={to(`hand-over/${person.memberId}`)} />
          ))}
        </ul>
      )}
      <p className="acts">
        <ActionLink href={to('hand-over/walk-up')}>Sticks taken without a claim</ActionLink>
        <ActionLink href={to('list')} kind="plain">
          Printed lists
        </ActionLink>
      </p>
    </GroupPage>
  )
}

function leftToDo(people: readonly HandOverPerson[]): string {
  const sticks = people.reduce((sum, person) => sum + person.sticksPromised, 0)
  const waiting = people.filter((person) => person.claimsPromised > 0).length
  if (people.length === 0) return 'Nobody has claimed anything.'
  if (waiting === 0) return 'Everything is handed over.'
  return `${waiting === 1 ? '1 person' : `${waiting} people`} to come, ${counted(sticks, 'stick')}`
}

function PersonRow({ person, href }: { readonly person: HandOverPerson; readonly href: string }) {
  const { claimsPromised, sticksPromised, sticksHandedOver } = person
  return (
    <li className="flex flex-wrap items-center justify-between gap-x-6 py-2">
      <Link className="inline-flex min-h-14 items-center text-lead font-medium" href={href} prefetch={false}>
        {person.name}
      </Link>
      <p className="soft">
        {claimsPromised > 0
          ? `${counted(claimsPromised, 'lot')} to hand over, ${counted(sticksPromised, 'stick')}`
          : 'Has everything'}
        {sticksHandedOver > 0 && `; ${sticksHandedOver} handed over`}
      </p>
    </li>
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
      title={`Nobody called “${search}” has claimed anything`}
      action={<ActionLink href={walkUp}>Sticks taken without a claim</ActionLink>}
    >
      Try a part of the name, or record what the person takes without one.
    </Empty>
  )
}
