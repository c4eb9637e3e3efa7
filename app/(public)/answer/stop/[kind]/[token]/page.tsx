import type { Metadata } from 'next'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { publicContext } from '#lib/access/context.ts'
import { attemptsRefusalWords } from '#lib/attempts/refusal-words.ts'
import { getMailStop, type MailKind, mailKinds } from '#lib/people/mail-choice.ts'
import { switchMailAction } from './actions.ts'

export const metadata: Metadata = {
  title: 'Mails',
  robots: { index: false, follow: false },
  referrer: 'same-origin',
}

const what: Readonly<Record<MailKind, string>> = {
  reminders: 'reminders to look at your grafts and cuttings',
  'week-mail': 'the mail of the week',
}

export default async function StopMailsPage(props: PageProps<'/answer/stop/[kind]/[token]'>) {
  const { kind: asked, token } = await props.params
  const kind = mailKinds.find((known) => known === asked)
  const stop = kind ? await getMailStop(publicContext().db, kind, token) : null
  return (
    <PublicFrame {...(stop ? { group: { name: stop.groupName } } : {})}>
      <div className="stack">
        <h1 className="gate-title">Mails</h1>
        {kind && stop ? (
          <>
            <p className="lead" role="status">
              {stop.isOn
                ? `${stop.person}, you get ${what[kind]} from ${stop.groupName}.`
                : `${stop.person}, you get no more of these: ${what[kind]}.`}
            </p>
            <form action={switchMailAction}>
              <input type="hidden" name="kind" value={kind} />
              <input type="hidden" name="token" value={token} />
              <input type="hidden" name="on" value={stop.isOn ? 'no' : 'yes'} />
              <button type="submit" className={stop.isOn ? 'btn' : 'btn second'}>
                {stop.isOn ? 'Stop them' : 'Send them again'}
              </button>
            </form>
            <p className="note">What waits for you still stands on your page of the week.</p>
          </>
        ) : (
          <>
            <Refusal {...attemptsRefusalWords({ kind: 'link-unknown' })} />
            <p>
              <ActionLink href="/sign-in" kind="first">
                Sign in
              </ActionLink>
            </p>
          </>
        )}
      </div>
    </PublicFrame>
  )
}
