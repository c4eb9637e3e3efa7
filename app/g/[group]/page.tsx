import type { Metadata } from 'next'
import Link from 'next/link'
import { clockTime, daysAway, longDay } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { NeedsRows } from '#app/_ui/rows.tsx'
import { Columns, Section } from '#app/_ui/section.tsx'
import { EveryStick } from '#app/g/[group]/_week/every-stick.tsx'
import { NeedRow } from '#app/g/[group]/_week/need-row.tsx'
import { Newcomer } from '#app/g/[group]/_week/newcomer.tsx'
import { NextDates, Yours } from '#app/g/[group]/_week/next-dates.tsx'
import { SeasonWork } from '#app/g/[group]/_week/season-work.tsx'
import { memberContext } from '#lib/access/context.ts'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import { getWeek, type Week } from '#lib/week/queries.ts'
import { GroupPage } from './_frame/group-page.tsx'

export const metadata: Metadata = { title: 'This week' }

export default async function WeekPage(props: PageProps<'/g/[group]'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const { db, actor, group, today } = context
  const week = await getWeek(db, actor, today)
  const { needs, sticks, yours, swap } = week
  const isNewcomer = yours.lots + yours.trees + yours.attempts === 0
  return (
    <GroupPage context={context} current="home">
      <PageHead title={longDay(today)} lead={leadOf(week, today, group.timeZone)} />
      {isNewcomer && <Newcomer slug={slug} groupName={group.name} swapId={swap?.id ?? null} />}
      {(needs.length > 0 || !isNewcomer) && (
        <Section title="Needs you" id="needs">
          {needs.length > 0 ? (
            <NeedsRows>
              {needs.map((need, i) => (
                <NeedRow
                  key={keyOf(need)}
                  need={need}
                  slug={slug}
                  today={today}
                  timeZone={group.timeZone}
                  isFirst={i === 0}
                />
              ))}
            </NeedsRows>
          ) : (
            <Empty title="Nothing waits for you">
              What needs you comes here by itself: claims that close, wood near its limit, looks at your
              grafts.
            </Empty>
          )}
        </Section>
      )}
      <Section title="Where we are in the season" id="season">
        <SeasonWork season={week.season} today={today} swap={swap?.heldOn ?? null} />
      </Section>
      <Columns kind="even">
        <Section
          title="Every stick"
          id="sticks"
          aside={
            sticks.lots > 0 && (
              <Link className="tap" href={`/g/${slug}/wood`} prefetch={false}>
                {sticks.lots === 1 ? 'The one lot' : `All ${counted(sticks.lots, 'lot')}`}
              </Link>
            )
          }
        >
          {sticks.lots > 0 ? (
            <>
              <p className="note">Cut so far this season. The parts must add up to the total.</p>
              <EveryStick sticks={sticks} />
            </>
          ) : (
            <Empty title="No wood cut this season yet">
              It is usually cut from December to February, while the buds are tight.
            </Empty>
          )}
        </Section>
        <Section title="Next dates" id="dates">
          <NextDates slug={slug} dates={week.dates} today={today} timeZone={group.timeZone} />
          <h3>Yours</h3>
          <Yours slug={slug} yours={yours} today={today} />
        </Section>
      </Columns>
    </GroupPage>
  )
}

const keyOf = (need: Week['needs'][number]): string =>
  `${need.kind} ${'swap' in need ? need.swap.id : 'due' in need ? need.due.attempt.id : 'attemptId' in need ? need.attemptId : ''}`

/** "17 days to the swap. Claims close Sunday 14 February, 6 pm." */
function leadOf({ swap, needs, yours }: Week, today: CivilDate, timeZone: string): string {
  if (!swap) {
    if (yours.nextLookOn) return `No swap is planned. Your next look is ${daysAway(today, yours.nextLookOn)}.`
    return needs.length > 0 ? 'No swap is planned.' : 'No swap is planned, and nothing is pressing.'
  }
  const heldOn =
    swap.heldOn === today
      ? `${swap.name} is today, ${swap.place}.`
      : swap.heldOn < today
        ? `${swap.name} was ${daysAway(today, swap.heldOn)}.`
        : `${swap.name} is ${daysAway(today, swap.heldOn)}.`
  const said = (instant: Date) =>
    `${longDay(civilDateIn(timeZone, instant), today)}, ${clockTime(instant, timeZone)}`
  if (swap.claiming === 'open') return `${heldOn} Claims close ${said(swap.claimsCloseAt)}.`
  if (swap.claiming === 'opens-later') return `${heldOn} Claims open ${said(swap.claimsOpenAt)}.`
  return heldOn
}
