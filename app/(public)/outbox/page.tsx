import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { Empty } from '#app/_ui/empty.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { localOutbox } from '#lib/access/local-outbox.ts'

export const metadata: Metadata = { title: 'Outbox' }

/** A mail's text with its addresses as links, so that a sign-in link can be followed from here. */
function MailText({ body }: { readonly body: string }) {
  const parts = body.split(/(https?:\/\/\S+)/)
  return (
    <p style={{ whiteSpace: 'pre-line' }}>
      {parts.map((part, place) =>
        part.startsWith('http') ? (
          // biome-ignore lint/suspicious/noArrayIndexKey: the parts of one text never change places
          <a key={place} href={part}>
            {part}
          </a>
        ) : (
          part
        ),
      )}
    </p>
  )
}

export default async function OutboxPage() {
  const mails = await localOutbox()
  if (!mails) notFound()
  return (
    <PublicFrame wide>
      <PageHead
        title="Outbox"
        lead="No mail server is configured, so nothing leaves this machine. What would have been sent is here, newest first."
      />
      {mails.length === 0 ? (
        <Empty title="No mail yet">
          <p>Ask for a sign-in link or invite somebody, and the mail appears here.</p>
        </Empty>
      ) : (
        <ul className="rows">
          {mails.map((mail) => (
            <li key={mail.id} className="stack-s">
              <h2 className="h3">{mail.subject}</h2>
              <p className="note">
                To {mail.to}, {mail.createdAt.toISOString().slice(0, 16).replace('T', ' ')} UTC
              </p>
              <MailText body={mail.body} />
            </li>
          ))}
        </ul>
      )}
    </PublicFrame>
  )
}
