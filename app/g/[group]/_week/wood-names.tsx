import { LotCode } from '#app/_ui/code.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { daysBetween } from '#lib/kernel/civil-date.ts'
import { speakLimit } from '#lib/viability/third-of-month.ts'
import type { WoodInNeed } from '#lib/week/need.ts'

interface WoodNamesProps {
  readonly slug: string
  readonly wood: readonly WoodInNeed[]
  readonly today: CivilDate
  readonly showsLimit: boolean
}

/** More lots than this are counted, not named. */
const named = 3

/** "‘Baldwin’ K9B-D6Y (20 sticks, mid February), … and 4 more". */
export function WoodNames({ slug, wood, today, showsLimit }: WoodNamesProps) {
  const rest = wood.length - named
  return (
    <>
      {wood.slice(0, named).map((lot, i) => (
        <span key={lot.code}>
          {i > 0 && ', '}
          {lot.varietyName !== null && (
            <>
              <VarietyName name={lot.varietyName} />{' '}
            </>
          )}
          <LotCode code={lot.code} href={`/g/${slug}/wood/${lot.code}`} /> ({counted(lot.sticks, 'stick')}
          {showsLimit && lot.likely && `, ${limitOf(lot, lot.likely, today)}`}
          {lot.isHeld && ', on hold'})
        </span>
      ))}
      {rest > 0 && ` and ${rest} more`}
    </>
  )
}

const limitOf = (lot: WoodInNeed, likely: CivilDate, today: CivilDate): string =>
  speakLimit(likely, { today, livesDays: daysBetween(lot.cutOn, likely) })
