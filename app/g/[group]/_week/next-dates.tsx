import Link from 'next/link'
import type { ReactNode } from 'react'
import { clockTime, recordedDay } from '#app/_ui/dates.ts'
import { Facts } from '#app/_ui/facts.tsx'
import { counted } from '#app/_ui/measures.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { Week, WeekDate } from '#lib/week/queries.ts'

interface NextDatesProps {
  readonly slug: string
  readonly dates: readonly WeekDate[]
  readonly today: CivilDate
  readonly timeZone: string
}

function words(date: WeekDate, slug: string, timeZone: string): ReactNode {
  switch (date.kind) {
    case 'claims-open':
      return `Claims open, ${clockTime(date.at, timeZone)}`
    case 'claims-close':
      return `Claims close, ${clockTime(date.at, timeZone)}`
    case 'swap':
      return (
        <>
          <Link href={`/g/${slug}/swaps/${date.swap.id}`} prefetch={false}>
            <b>{date.swap.name}</b>
          </Link>
          , {date.swap.place}
        </>
      )
    case 'look':
      return `A look at ${counted(date.attempts, 'batch', 'batches')} of yours`
  }
}

/** The days to keep in mind. */
export function NextDates({ slug, dates, today, timeZone }: NextDatesProps) {
  if (dates.length === 0) return <p className="note">No swap is planned, and no look is to come.</p>
  return <Facts items={dates.map((date) => [recordedDay(date.on, today), words(date, slug, timeZone)])} />
}

interface YoursProps {
  readonly slug: string
  readonly yours: Week['yours']
  readonly today: CivilDate
}

/** What the person who asks has put in this season. */
export function Yours({ slug, yours, today }: YoursProps) {
  return (
    <Facts
      items={[
        [
          'Cut',
          yours.lots > 0
            ? `${counted(yours.lots, 'lot')}, ${counted(yours.sticksCut, 'stick')}`
            : 'nothing yet',
        ],
        ['Trees', yours.trees > 0 ? `${yours.trees} on record` : 'none on record'],
        [
          'Grafts',
          yours.attempts > 0 ? (
            <>
              <Link href={`/g/${slug}/grafts`} prefetch={false}>
                {counted(yours.attempts, 'batch', 'batches')}
              </Link>
              , {yours.attemptsThisSeason} of this season
              {yours.nextLookOn && `; next look ${recordedDay(yours.nextLookOn, today)}`}
            </>
          ) : (
            'none on record'
          ),
        ],
      ]}
    />
  )
}
