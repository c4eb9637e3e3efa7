import Link from 'next/link'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { lookWords, seenWords } from '#app/g/[group]/grafts/_parts/attempt-words.ts'
import { CheckPhotos } from '#app/g/[group]/grafts/_parts/check-photos.tsx'
import { findCheckState } from '#lib/attempts/check-states.ts'
import { unknownReasons } from '#lib/attempts/input.ts'
import { settledAfterDays } from '#lib/attempts/next-look.ts'
import type { AttemptDetail, CheckView } from '#lib/attempts/view.ts'
import { checkpointKeys } from '#lib/grafting/checkpoints.ts'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'

interface CheckHistoryProps {
  readonly slug: string
  readonly attempt: AttemptDetail
  readonly today: CivilDate
}

/** Every look, the latest day first. Corrected ones stay to be read. */
export function CheckHistory({ slug, attempt, today }: CheckHistoryProps) {
  return (
    <Rows>
      {attempt.checks.map((check) => (
        <li key={check.id} className="sec-head">
          <CheckWords slug={slug} check={check} attempt={attempt} today={today} />
          {attempt.mayChange && !check.isCorrected && !attempt.withdrawn && (
            <Link
              className="tap"
              href={`/g/${slug}/grafts/${attempt.id}/check?corrects=${check.id}`}
              prefetch={false}
            >
              Correct it
            </Link>
          )}
        </li>
      ))}
    </Rows>
  )
}

interface CheckWordsProps {
  readonly slug: string
  readonly check: CheckView
  readonly attempt: AttemptDetail
  readonly today: CivilDate
}

function CheckWords({ slug, check, attempt, today }: CheckWordsProps) {
  const day = daysBetween(attempt.madeOn, check.checkedOn)
  const isStanding = attempt.standing?.id === check.id
  const seen = seenWords(check, attempt.method)
  return (
    <div className="stack-s">
      <p>
        {check.isCorrected ? <s>{seen}</s> : seen} {check.isCorrected && <Tag>corrected</Tag>}
        {isStanding && <Tag tone="info">this one counts</Tag>}
      </p>
      <p className="note">
        <RecordedDay date={check.checkedOn} today={today} />, day {day}, by {check.recordedBy}
        {check.isByLink && ', through the link of a mail'}
        {check.correctsId && '; corrects an earlier entry'}.
        {isStanding && day < settledAfterDays && check.alive > 0 && ' So early it may still change.'}
      </p>
      {stateLine(check) && <p className="note">{stateLine(check)}</p>}
      {check.causes.length > 0 && (
        <p className="note">
          Why: {check.causes.map(({ label, pieces }) => `${label.toLowerCase()} (${pieces})`).join('; ')}.
        </p>
      )}
      {check.note && <p className="note">“{check.note}”</p>}
      {check.photos.length > 0 && (
        <CheckPhotos slug={slug} photos={check.photos} mayRemove={attempt.mayChange} />
      )}
    </div>
  )
}

function stateLine({ checkpoint, state, unknownWhy }: CheckView): string {
  const look = checkpointKeys.find((key) => key === checkpoint)
  const why = unknownReasons.find(({ key }) => key === unknownWhy)?.label
  const parts = [look && lookWords[look], findCheckState(state)?.label.toLowerCase(), why?.toLowerCase()]
  const words = parts.filter(Boolean).join(': ')
  return words === '' ? '' : `${words}.`
}
