import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import type { ReactNode } from 'react'
import { recordedDay } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { Tick } from '#app/_ui/form/pick-group.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { memberContext } from '#lib/access/context.ts'
import { type CalendarAddress, calendarAddress } from '#lib/care/calendar-feed.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { getMailChoice, type MailChoice } from '#lib/people/mail-choice.ts'
import { GroupPage } from '../../_frame/group-page.tsx'
import { DoneNotice } from '../../people/_parts/done-notice.tsx'
import { chooseMailsAction, makeCalendarFeedAction, revokeCalendarFeedAction } from './actions.ts'

export const metadata: Metadata = { title: 'Mails and calendar' }

const notices = {
  mails: 'Your mails are set.',
  made: 'Your calendar has an address. An earlier one answers no more.',
  closed: 'The address of your calendar is closed.',
}

export default async function MailsPage(props: PageProps<'/g/[group]/settings/mails'>) {
  const [{ group: slug }, { done }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, group, today } = context
  const [choice, address] = await Promise.all([
    getMailChoice(db, actor),
    calendarAddress(db, actor, group.timeZone),
  ])
  return (
    <GroupPage context={context} current="settings">
      <DoneNotice done={done} words={notices} />
      <PageHead
        title="Mails and calendar"
        crumb={{ href: `/g/${slug}/settings`, label: 'Settings' }}
        lead="What reaches you outside these pages. Only yours; nobody sets it for you."
      />
      <Section title="Mails" id="mails">
        <MailForm slug={slug} choice={choice} />
      </Section>
      <Section title="Calendar" id="calendar">
        <Calendar slug={slug} address={address} today={today} />
      </Section>
    </GroupPage>
  )
}

function MailForm({ slug, choice }: { readonly slug: string; readonly choice: MailChoice }) {
  return (
    <ActionForm action={chooseMailsAction} label="Mails" className="form read">
      <Hidden name="group" value={slug} />
      <Tick
        name="reminders"
        label="Ask me how my grafts and cuttings stand"
        note="When a look is due, and once more two weeks later. The links in the mail answer without signing in."
        defaultChecked={choice.reminders}
      />
      <Tick
        name="weekMail"
        label="Tell me on Mondays what waits for me"
        note="Only when something does."
        defaultChecked={choice.weekMail}
      />
      <SubmitButton kind="second" pending="Saving">
        Save your mails
      </SubmitButton>
    </ActionForm>
  )
}

interface CalendarProps {
  readonly slug: string
  readonly address: CalendarAddress | null
  readonly today: CivilDate
}

function Calendar({ slug, address, today }: CalendarProps) {
  return (
    <div className="stack read">
      <p>
        Looks and care of your grafts and cuttings, as days in the calendar of your phone or computer. What
        you do, put off or call off here changes there when the calendar asks again, some hours later.
      </p>
      {address && (
        <>
          <div className="field">
            <label htmlFor="calendar-address">Its address, since {recordedDay(address.since, today)}</label>
            <input id="calendar-address" className="in" type="url" readOnly value={address.url} />
          </div>
          <p>
            <a className="tap" href={address.url.replace(/^https?:/, 'webcal:')}>
              Open it in the calendar of this device
            </a>
          </p>
          <p className="note">
            Subscribe to it by address; do not import it once, or nothing will change. Whoever has the address
            can read these days, so give it to nobody. If it got out, make a new one.
          </p>
        </>
      )}
      <div className="acts">
        <KeyedForm slug={slug} action={makeCalendarFeedAction} label="Make an address">
          <SubmitButton kind="second" pending="Making an address">
            {address ? 'Make a new address' : 'Make an address'}
          </SubmitButton>
        </KeyedForm>
        {address && (
          <KeyedForm slug={slug} action={revokeCalendarFeedAction} label="Close the address">
            <SubmitButton kind="stop" pending="Closing it">
              Close it
            </SubmitButton>
          </KeyedForm>
        )}
      </div>
    </div>
  )
}

interface KeyedFormProps {
  readonly slug: string
  readonly action: typeof makeCalendarFeedAction
  readonly label: string
  readonly children: ReactNode
}

function KeyedForm({ slug, action, label, children }: KeyedFormProps) {
  return (
    <ActionForm action={action} label={label}>
      <Hidden name="group" value={slug} />
      <OnceKey value={randomUUID()} />
      {children}
    </ActionForm>
  )
}
