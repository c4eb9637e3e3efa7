import { notFound } from 'next/navigation'
import { pdfResponse } from '#app/_ui/pdf-response.ts'
import { paperPartOf, swapPapers } from '#app/g/[group]/swaps/_parts/paper-words.ts'
import { memberContext } from '#lib/access/context.ts'
import { swapPapersPdf } from '#lib/formats/pdf/swap-papers.ts'
import { dayPapers } from '#lib/swaps/day-papers.ts'

/** The papers of a swap's day, one kind or all of them in one file. */
export async function GET(
  request: Request,
  context: RouteContext<'/g/[group]/swaps/[id]/print/pdf'>,
): Promise<Response> {
  const { group: slug, id } = await context.params
  const { db, actor, today } = await memberContext(slug)
  const query = new URL(request.url).searchParams
  const part = paperPartOf(query.get('part'))
  const papers = await dayPapers(db, actor, id)
  if (!papers) notFound()
  const words = swapPapers(papers, part, query.get('paper') === 'letter' ? 'letter' : 'A4')
  // A file without a page is none: lists of claims that nobody made.
  const isEmpty =
    !words.signIn &&
    [words.tableCards, words.byPerson, words.byTable, words.careSlips].every((list) => list.length === 0)
  if (isEmpty) notFound()
  return pdfResponse(await swapPapersPdf(words), `${slug}-${part}-${today}.pdf`)
}
