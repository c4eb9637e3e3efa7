import { NextResponse } from 'next/server'
import { publicContext } from '#lib/access/context.ts'
import { mailKinds, switchMailByLink } from '#lib/people/mail-choice.ts'

type Context = RouteContext<'/answer/stop/[kind]/[token]/now'>

/** A mail program's one-click request (RFC 8058): stops such mails without a page. */
export async function POST(_request: Request, context: Context): Promise<Response> {
  const { kind: asked, token } = await context.params
  const kind = mailKinds.find((known) => known === asked)
  const stopped = kind && (await switchMailByLink(publicContext().db, { kind, token, on: false }))
  return stopped?.ok
    ? new Response('Stopped.\n', { headers: { 'content-type': 'text/plain; charset=utf-8' } })
    : new Response('This link is not one that we mailed.\n', { status: 404 })
}

/** Opened as a page, as scanners and some mail programs do: nothing changes here; the page has the button. */
export async function GET(_request: Request, context: Context): Promise<Response> {
  const { kind, token } = await context.params
  const page = `/answer/stop/${encodeURIComponent(kind)}/${encodeURIComponent(token)}`
  return NextResponse.redirect(new URL(page, publicContext().baseUrl))
}
