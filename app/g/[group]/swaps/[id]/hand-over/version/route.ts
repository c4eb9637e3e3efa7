import { notFound } from 'next/navigation'
import { memberContext } from '#lib/access/context.ts'
import { dayVersion } from '#lib/swaps/run-day.ts'

/** The mark of a swap's day, which changes with everything that is done on it. */
export async function GET(
  _request: Request,
  context: RouteContext<'/g/[group]/swaps/[id]/hand-over/version'>,
): Promise<Response> {
  const { group: slug, id } = await context.params
  const { db, actor } = await memberContext(slug)
  const version = await dayVersion(db, actor, id)
  if (version === null) notFound()
  return Response.json({ version }, { headers: { 'cache-control': 'private, no-store' } })
}
