import Link from 'next/link'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { instantWords } from '#app/_ui/dates.ts'
import { counted } from '#app/_ui/measures.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { Section } from '#app/_ui/section.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { inspectionFlags, inspectionFlagWords, seenWords } from '#lib/wood/inspection-words.ts'
import type { InspectionView } from '#lib/wood/inspections.ts'
import type { LotView } from '#lib/wood/view.ts'

interface LooksProps {
  readonly looks: readonly InspectionView[]
  readonly view: LotView
  readonly today: CivilDate
}

/** What the latest look found wrong, before anything else on the page. */
export function LatestLook({ looks, view, today }: LooksProps) {
  const latest = looks.find((look) => !look.isCorrected)
  const flags = latest ? inspectionFlags(latest) : []
  if (!latest || flags.length === 0) return null
  const isGrave = flags.some((flag) => flag === 'brown' || flag === 'spoilt' || flag === 'buds-open')
  return (
    <Notice tone={isGrave ? 'stop' : 'soon'}>
      <p>
        Looked at {instantWords(latest.inspectedAt, view.timeZone, today)}:{' '}
        <b>{inspectionFlagWords(flags)}</b>. <a href="#looks">Everything that was seen</a>
      </p>
    </Notice>
  )
}

/** The looks at a lot, the latest first, and the way to record another. */
export function LotInspections({
  looks,
  view,
  today,
  slug,
  href,
}: LooksProps & { readonly slug: string; readonly href: string }) {
  return (
    <Section id="looks" title="Looked at">
      {looks.length === 0 ? (
        <p className="soft">
          Nobody has recorded a look yet. Every two to four weeks is common practice: mould, shrivelled bark,
          moving buds.
        </p>
      ) : (
        <ul className="rows">
          {looks.map((look) => (
            <Look key={look.inspectionId} look={look} view={view} today={today} slug={slug} href={href} />
          ))}
        </ul>
      )}
      {view.mayTend && (
        <p>
          <ActionLink href={`${href}/inspect`} small>
            Record a look
          </ActionLink>
        </p>
      )}
    </Section>
  )
}

interface LookProps {
  readonly look: InspectionView
  readonly view: LotView
  readonly today: CivilDate
  readonly slug: string
  readonly href: string
}

function Look({ look, view, today, slug, href }: LookProps) {
  const when = instantWords(look.inspectedAt, view.timeZone, today)
  return (
    <li>
      <p>
        <b>{when}</b>, {look.inspector}
        {look.recordedBy && <span className="soft"> (recorded by {look.recordedBy})</span>}
        {look.isCorrection && <span className="soft">, a correction</span>}
      </p>
      <p>{look.isCorrected ? <s>{seenWords(look)}</s> : seenWords(look)}</p>
      {look.note && <p className="note">{look.note}</p>}
      <p className="note">
        {look.isCorrected && 'Corrected: another look stands in for this one. '}
        {look.holdId && (
          <>
            <Link href={`/g/${slug}/health/${look.holdId}`} prefetch={false}>
              Put on hold
            </Link>{' '}
            for it.{' '}
          </>
        )}
        {look.destroyed &&
          `${counted(look.destroyed.sticks, 'stick')} destroyed for it: ${look.destroyed.reason ?? ''} `}
        {view.mayTend && !look.isCorrected && (
          <Link href={`${href}/inspect?correct=${look.inspectionId}`} prefetch={false} className="tap">
            Correct it<span className="vh">, the look of {when}</span>
          </Link>
        )}
      </p>
    </li>
  )
}
