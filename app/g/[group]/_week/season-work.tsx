import { SeasonStrip } from '#app/_ui/season-strip.tsx'
import { addDays, type CivilDate, civilDate } from '#lib/kernel/civil-date.ts'
import type { Season } from '#lib/wood/season.ts'

interface SeasonWorkProps {
  readonly season: Season
  readonly today: CivilDate
  readonly swap: CivilDate | null
}

/** Roughly when the work of the year falls in a northern winter. Common practice, no source. */
const work = [
  { label: 'Name and look over trees in leaf', from: [0, '09-01'], to: [0, '10-20'] },
  { label: 'Cut wood', from: [0, '11-15'], to: [1, '02-20'] },
  { label: 'Keep it cold', from: [0, '11-15'], to: [1, '04-25'] },
  { label: 'Graft and strike', from: [1, '03-01'], to: [1, '05-10'] },
  { label: 'Looks and care', from: [1, '04-10'], to: [1, '08-31'] },
  { label: 'Summer budding', from: [1, '07-05'], to: [1, '08-20'] },
] as const

/** The work of the season on one strip, with today and the swap. */
export function SeasonWork({ season, today, swap }: SeasonWorkProps) {
  const day = ([year, rest]: readonly [number, string]): CivilDate =>
    civilDate(`${season.startYear + year}-${rest}`)
  return (
    <>
      <SeasonStrip
        from={season.from}
        to={addDays(season.before, -1)}
        today={today}
        swap={swap}
        bars={work.map(({ label, from, to }) => ({ label, from: day(from), to: day(to) }))}
        id="season-strip"
      />
      <p className="note">Roughly, for a northern winter. Your trees and your weather say when.</p>
    </>
  )
}
