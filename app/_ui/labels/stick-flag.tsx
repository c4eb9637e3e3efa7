import { displayCode } from '#app/_ui/code.tsx'
import { dayMonth } from '#app/_ui/dates.ts'
import { LotQr } from '#app/_ui/labels/qr.tsx'
import { quoted } from '#app/_ui/name.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import '../labels.css'

/** What the flag on a stick says. */
export interface FlagData {
  readonly code: string
  readonly variety: string | null
  readonly cut: CivilDate
  readonly hold?: boolean
}

/** The flag of a stick, 38 × 21 mm: it is still read when the bag is not at hand. */
export function StickFlag({ flag }: { readonly flag: FlagData }) {
  return (
    <article className="flag-l">
      <LotQr code={flag.code} size="12mm" />
      <div>
        <p className="f-name">{quoted(flag.variety)}</p>
        <p className="f-code">{displayCode(flag.code)}</p>
        {flag.hold ? (
          <p className="f-hold">HOLD</p>
        ) : (
          <p className="f-s">
            cut {dayMonth(flag.cut)} {flag.cut.slice(2, 4)}
          </p>
        )}
      </div>
    </article>
  )
}

/** A flag for each stick of a bag. */
export const flagsFor = (flag: FlagData, sticks: number): FlagData[] =>
  Array.from({ length: sticks }, () => flag)
