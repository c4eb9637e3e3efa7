import { memberContext } from '#lib/access/context.ts'
import { readingsCsv } from '#lib/wood/store-readings.ts'

/** All readings of a store, as a file that can be brought back as it is. */
export async function GET(
  _request: Request,
  context: RouteContext<'/g/[group]/wood/stores/[id]/csv'>,
): Promise<Response> {
  const { group: slug, id } = await context.params
  const { db, actor, today } = await memberContext(slug)
  const file = await readingsCsv(db, actor, id)
  if (!file) return new Response('There is no such store.\n', { status: 404 })
  const name = file.storeName
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
  return new Response(file.text, {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="${name || 'store'}-readings-${today}.csv"`,
      'cache-control': 'private, no-store',
    },
  })
}
