import { publicContext } from '#lib/access/context.ts'
import { readCalendar } from '#lib/care/calendar-feed.ts'

/** Somebody's calendar under its secret address. Calendar programs have no session; the address is the key. */
export async function GET(
  _request: Request,
  context: RouteContext<'/api/calendar/[file]'>,
): Promise<Response> {
  const { file } = await context.params
  const token = file.endsWith('.ics') ? file.slice(0, -'.ics'.length) : ''
  const text = await readCalendar(publicContext().db, token)
  if (text === null) return new Response('There is no such calendar.\n', { status: 404 })
  return new Response(text, {
    headers: {
      'content-type': 'text/calendar; charset=utf-8',
      'content-disposition': 'inline; filename="tallywood.ics"',
      'cache-control': 'private, no-store',
      'x-robots-tag': 'noindex',
    },
  })
}
