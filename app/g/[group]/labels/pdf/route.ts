import { notFound } from 'next/navigation'
import { pdfResponse } from '#app/_ui/pdf-response.ts'
import { labelWish, pdfSettings } from '#app/g/[group]/labels/_parts/pdf-settings.ts'
import { bagToPrint, flagToPrint } from '#app/g/[group]/labels/_parts/print-words.ts'
import { memberContext, publicContext } from '#lib/access/context.ts'
import { bagLabelsPdf, stickFlagsPdf } from '#lib/formats/pdf/label-sheets.ts'
import { lotsToLabel } from '#lib/swaps/lots-to-label.ts'

/** Labels of a lot, of a cutting session or of a swap, as the form asks for them. */
export async function GET(
  request: Request,
  context: RouteContext<'/g/[group]/labels/pdf'>,
): Promise<Response> {
  const { group: slug } = await context.params
  const { db, actor, group, person, today } = await memberContext(slug)
  const query = new URL(request.url).searchParams
  const wish = labelWish(query)
  const lots = wish ? await lotsToLabel(db, actor, group.timeZone, wish) : []
  if (lots.length === 0) notFound()
  const settings = pdfSettings(query)
  const isBags = settings.takes === 'bags'
  const sheets = { ...settings, title: isBags ? 'Bag labels' : 'Stick flags' }
  const on = {
    today,
    timeZone: group.timeZone,
    unit: person.fahrenheit ? ('F' as const) : ('C' as const),
    wood: `${publicContext().baseUrl}/g/${slug}/wood`,
  }
  const bytes = isBags
    ? await bagLabelsPdf(
        sheets,
        lots.map((lot) => bagToPrint(lot, on)),
      )
    : await stickFlagsPdf(
        sheets,
        lots.flatMap((lot) => {
          const flag = flagToPrint(lot, today)
          return Array.from({ length: lot.sums.free + lot.sums.promised }, () => flag)
        }),
      )
  return pdfResponse(bytes, `${slug}-${isBags ? 'bag-labels' : 'stick-flags'}-${today}.pdf`)
}
