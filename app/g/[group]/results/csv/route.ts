import { resultsAddress, resultsFilter } from '#app/g/[group]/results/_parts/results-address.ts'
import { memberContext } from '#lib/access/context.ts'
import { resultsChoices } from '#lib/results/outcome-tallies.ts'
import { getResults } from '#lib/results/results.ts'
import { resultsCsv } from '#lib/results/results-csv.ts'

/** The results as the page shows them, as a file. */
export async function GET(
  request: Request,
  context: RouteContext<'/g/[group]/results/csv'>,
): Promise<Response> {
  const { group: slug } = await context.params
  const { db, actor, today } = await memberContext(slug)
  const query = Object.fromEntries(new URL(request.url).searchParams)
  const address = resultsAddress(
    { season: query['season'], crop: query['crop'] },
    await resultsChoices(db, actor),
  )
  const text = resultsCsv(await getResults(db, actor, resultsFilter(address)))
  return new Response(text, {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="${slug}-results-${today}.csv"`,
      'cache-control': 'private, no-store',
    },
  })
}
