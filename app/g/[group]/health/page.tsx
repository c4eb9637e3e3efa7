import type { Metadata } from 'next'
import Link from 'next/link'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { instantWords } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { AuthorityCaution } from '#app/g/[group]/health/_parts/authority-caution.tsx'
import { HoldVariety, holdSubject } from '#app/g/[group]/health/_parts/hold-name.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { listHolds } from '#lib/health/queries.ts'
import type { HoldRow } from '#lib/health/view.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

export const metadata: Metadata = { title: 'Health holds' }

export default async function HealthPage(props: PageProps<'/g/[group]/health'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const holds = await listHolds(context.db, context.actor)
  const open = holds.filter((hold) => hold.releasedAt === null)
  const released = holds.filter((hold) => hold.releasedAt !== null)
  const mayPlace = can(context.actor, 'place-holds')
  const line = (hold: HoldRow) => (
    <HoldLine
      key={hold.holdId}
      slug={slug}
      hold={hold}
      timeZone={context.group.timeZone}
      today={context.today}
    />
  )
  return (
    <GroupPage context={context} current="health">
      <PageHead
        title="Health holds"
        meta="While a lot or a limb is on hold nothing is cut, offered, claimed or handed over from it."
        acts={
          mayPlace && (
            <ActionLink href={`/g/${slug}/health/new`} kind="first">
              Place a hold
            </ActionLink>
          )
        }
      />
      <AuthorityCaution region={context.group.region} />
      {open.length === 0 ? (
        <Empty title="Nothing is on hold">
          {mayPlace
            ? 'Seen ooze, black tips, mosaic leaves or a canker on a donor tree? Place a hold first and ask afterwards.'
            : 'Seen ooze, black tips, mosaic leaves or a canker on a donor tree? Tell the health steward at once.'}
        </Empty>
      ) : (
        <Section id="open" title="On hold now">
          <ul className="rows">{open.map(line)}</ul>
        </Section>
      )}
      {released.length > 0 && (
        <Section id="released" title="Released">
          <ul className="rows">{released.map(line)}</ul>
        </Section>
      )}
    </GroupPage>
  )
}

interface HoldLineProps {
  readonly slug: string
  readonly hold: HoldRow
  readonly timeZone: string
  readonly today: CivilDate
}

function HoldLine({ slug, hold, timeZone, today }: HoldLineProps) {
  return (
    <li className="stack-s">
      <p className="flex flex-wrap items-baseline justify-between gap-x-4">
        <span>
          <Link href={`/g/${slug}/health/${hold.holdId}`} prefetch={false} className="tap">
            {holdSubject(hold)}
          </Link>{' '}
          <HoldVariety hold={hold} />
        </span>
        {hold.releasedAt === null ? <StateWord kind="hold" /> : <StateWord kind="past">Released</StateWord>}
      </p>
      <p>{hold.reason}</p>
      <p className="note">
        Placed {instantWords(hold.placedAt, timeZone, today)} by {hold.placedBy}.{' '}
        {hold.releasedAt === null
          ? `Stops ${counted(hold.lots, 'lot')} with ${counted(hold.sticksInStore, 'stick')} in store, ${hold.sticksPromised} of them claimed.`
          : `Released ${instantWords(hold.releasedAt, timeZone, today)} by ${hold.releasedBy ?? ''}: ${hold.releaseReason ?? ''}`}
      </p>
    </li>
  )
}
