import type { Metadata } from 'next'
import Link from 'next/link'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { displayCode } from '#app/_ui/code.tsx'
import { longDay } from '#app/_ui/dates.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { AnswerForm } from '#app/(public)/answer/_parts/answer-form.tsx'
import { publicContext } from '#lib/access/context.ts'
import { findAnswer } from '#lib/attempts/answer-input.ts'
import { type AnswerPage, getAnswer } from '#lib/attempts/get-answer.ts'
import { attemptsRefusalWords } from '#lib/attempts/refusal-words.ts'
import { stopAddresses } from '#lib/people/mail-choice.ts'

// The address is the key to the answer: it goes into no index. Not "no-referrer": without script the browser would
// then hide where the form comes from, and the server takes no form of unknown origin.
export const metadata: Metadata = {
  title: 'How do they stand?',
  robots: { index: false, follow: false },
  referrer: 'same-origin',
}

export default async function AnswerByLinkPage(props: PageProps<'/answer/[token]'>) {
  const [{ token }, { say, done }] = await Promise.all([props.params, props.searchParams])
  const page = await getAnswer(publicContext().db, token)
  return (
    <PublicFrame {...(page ? { group: { name: page.groupName } } : {})}>
      <div className="stack">
        <h1 className="gate-title">How do they stand?</h1>
        {page?.state === 'open' ? (
          <Open token={token} page={page} say={findAnswer(say)} isDone={done === 'answered'} />
        ) : (
          <Closed page={page} />
        )}
      </div>
    </PublicFrame>
  )
}

interface OpenProps {
  readonly token: string
  readonly page: AnswerPage
  readonly say: ReturnType<typeof findAnswer>
  readonly isDone: boolean
}

function Open({ token, page, say, isDone }: OpenProps) {
  const { standing } = page
  return (
    <>
      {isDone && standing && <Notice>Thank you. Your answer is on record.</Notice>}
      <Batch page={page} />
      {standing ? (
        <>
          <p>
            On record: <b>{standingWords(page)}</b>, seen {longDay(standing.checkedOn)}.
          </p>
          <details open={say !== null}>
            <summary>That is wrong, or has changed</summary>
            <AnswerForm token={token} page={page} say={say ?? standing.say} />
          </details>
        </>
      ) : (
        <>
          <p>{page.question}</p>
          <AnswerForm token={token} page={page} say={say} />
        </>
      )}
      <p className="note">
        You answer as {page.person}. This link is yours alone and answers until {longDay(page.opensUntil)}.
      </p>
      <StopLine page={page} />
    </>
  )
}

function Batch({ page }: { readonly page: AnswerPage }) {
  const tree = page.hostTreeCode ? `tree ${displayCode(page.hostTreeCode)}` : null
  const onto = page.stock ?? tree
  return (
    <p className="lead">
      {page.pieces} × <VarietyName name={page.varietyName} />
      {onto && ` on ${onto}`}, {page.methodName.toLowerCase()}, made {longDay(page.madeOn)}.
    </p>
  )
}

function standingWords({ standing, pieces, livingWord }: AnswerPage): string {
  if (!standing) return ''
  if (standing.say === 'not-attempted') return 'never made after all'
  if (standing.say === 'cannot-tell') return 'cannot tell'
  const unknown = standing.unknown > 0 ? `, ${standing.unknown} not known` : ''
  return `${standing.alive} of ${pieces} ${livingWord}, ${standing.dead} dead${unknown}`
}

function StopLine({ page }: { readonly page: AnswerPage }) {
  const { page: address } = stopAddresses('', 'reminders', page)
  return (
    <p className="note">
      <Link href={address} prefetch={false}>
        Stop these reminders
      </Link>
    </p>
  )
}

function Closed({ page }: { readonly page: AnswerPage | null }) {
  const words =
    page?.state === 'over'
      ? attemptsRefusalWords({ kind: 'link-is-over', on: page.opensUntil })
      : page?.state === 'withdrawn'
        ? { message: 'This entry was withdrawn: there is nothing to answer any more.', next: [] }
        : attemptsRefusalWords({ kind: 'link-unknown' })
  return (
    <>
      <Refusal {...words} />
      <p>
        <ActionLink href="/sign-in" kind="first">
          Sign in
        </ActionLink>
      </p>
    </>
  )
}
