import Link from 'next/link'
import { instantWords } from '#app/_ui/dates.ts'
import { Section } from '#app/_ui/section.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { HoldOnLot, LotView } from '#lib/wood/view.ts'

interface LotHoldProps {
  readonly slug: string
  readonly view: LotView
  readonly today: CivilDate
}

/** The open holds of a lot, first thing on its page. */
export function OpenHolds({ slug, view, today }: LotHoldProps) {
  return view.holds
    .filter((hold) => hold.releasedAt === null)
    .map((hold) => (
      <div key={hold.holdId} className="callout stop">
        <p>
          <StateWord kind="hold" /> since {instantWords(hold.placedAt, view.timeZone, today)},{' '}
          {hold.onLimb ? 'with the whole limb, ' : ''}by {hold.placedBy}: <b>{hold.reason}</b>
        </p>
        <p>
          Nothing is offered, claimed or handed over from it until the hold is released. Do not diagnose
          quarantine pests yourself; ask your agricultural authority.{' '}
          <Link href={`/g/${slug}/health/${hold.holdId}`} prefetch={false}>
            What this hold concerns
          </Link>
        </p>
      </div>
    ))
}

/** Holds of the past, with why they were placed and released. */
export function ReleasedHolds({ slug, view, today }: LotHoldProps) {
  const released = view.holds.filter(
    (hold): hold is HoldOnLot & { readonly releasedAt: Date } => hold.releasedAt !== null,
  )
  if (released.length === 0) return null
  return (
    <Section id="holds" title="Holds of the past">
      <ul className="rows">
        {released.map((hold) => (
          <li key={hold.holdId}>
            <Link href={`/g/${slug}/health/${hold.holdId}`} prefetch={false}>
              {hold.reason}
            </Link>
            <br />
            <span className="note">
              Placed {instantWords(hold.placedAt, view.timeZone, today)} by {hold.placedBy}; released{' '}
              {instantWords(hold.releasedAt, view.timeZone, today)} by {hold.releasedBy}: {hold.releaseReason}
            </span>
          </li>
        ))}
      </ul>
    </Section>
  )
}
