import type { AddressInfo } from 'node:net'
import { SMTPServer } from 'smtp-server'
import { expect, test } from 'vitest'
import { deliverOutbox, readOutbox } from '#lib/platform/mail/outbox.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase()

/** A real SMTP server on this machine, which keeps what it is told and refuses some addresses. */
async function mailServer(refuse: (address: string) => boolean = () => false) {
  const received: string[] = []
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onRcptTo({ address }, _session, done) {
      done(refuse(address) ? new Error('No such mailbox here') : null)
    },
    onData(stream, _session, done) {
      const chunks: Buffer[] = []
      stream.on('data', (chunk: Buffer) => chunks.push(chunk))
      stream.on('end', () => {
        received.push(Buffer.concat(chunks).toString('utf8'))
        done()
      })
    },
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.server.address() as AddressInfo
  return {
    url: `smtp://127.0.0.1:${port}`,
    received,
    stop: () => new Promise<void>((resolve) => server.close(() => resolve())),
  }
}

const post = (toAddress: string, subject: string) =>
  database.db.prisma.outboxMail.create({
    data: { id: database.db.newId(), toAddress, subject, body: 'The wood is in the fridge.' },
  })

test('sends what waits, once, and keeps what the server would not take with its reason', async () => {
  const { db } = database
  const server = await mailServer((address) => address.startsWith('gone'))
  try {
    await post('wren@example.org', 'Your wood')
    await post('gone@example.org', 'Your wood too')
    expect(await deliverOutbox(db, server.url, 'Tallywood <tallywood@example.org>')).toBe(1)
    expect(await deliverOutbox(db, server.url, 'Tallywood <tallywood@example.org>')).toBe(0)
    expect(server.received).toHaveLength(1)
    expect(server.received[0]).toContain('Subject: Your wood')
    expect(server.received[0]).toContain('From: Tallywood <tallywood@example.org>')
    const mails = await readOutbox(db)
    expect(mails.find((mail) => mail.to === 'wren@example.org')?.sentAt).not.toBeNull()
    const refused = await db.prisma.outboxMail.findFirstOrThrow({ where: { toAddress: 'gone@example.org' } })
    expect(refused.sentAt).toBeNull()
    expect(refused.tries).toBe(1)
    expect(refused.lastError).toContain('No such mailbox here')
    expect(refused.sendAfter.getTime()).toBeGreaterThan(Date.now())
  } finally {
    await server.stop()
  }
})

test('keeps everything when there is no server at all', async () => {
  const { db } = database
  await post('later@example.org', 'Later')
  expect(await deliverOutbox(db, 'smtp://127.0.0.1:9', 'tallywood@example.org')).toBe(0)
  const kept = await db.prisma.outboxMail.findFirstOrThrow({ where: { toAddress: 'later@example.org' } })
  expect(kept).toMatchObject({ sentAt: null, tries: 1 })
})

test('tells mail programs how to stop mails that can be stopped, and only those', async () => {
  const { db } = database
  const server = await mailServer()
  const unsubscribeUrl = 'https://wood.example.org/answer/stop/reminders/token/now'
  try {
    await db.prisma.outboxMail.create({
      data: { id: db.newId(), toAddress: 'ash@example.org', subject: 'A look', body: 'How?', unsubscribeUrl },
    })
    await post('ash@example.org', 'Your sign-in link')
    expect(await deliverOutbox(db, server.url, 'Tallywood <tallywood@example.org>')).toBe(2)
    const [reminder, link] = ['A look', 'Your sign-in link'].map((subject) =>
      server.received.find((mail) => mail.includes(`Subject: ${subject}`)),
    )
    expect(reminder?.replaceAll(/\r\n\s+/g, ' ')).toContain(`List-Unsubscribe: <${unsubscribeUrl}>`)
    expect(reminder).toContain('List-Unsubscribe-Post: List-Unsubscribe=One-Click')
    expect(link).not.toContain('List-Unsubscribe')
  } finally {
    await server.stop()
  }
})
