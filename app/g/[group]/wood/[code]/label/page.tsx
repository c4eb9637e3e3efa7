import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { displayCode } from '#app/_ui/code.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { BagSheets } from '#app/_ui/labels/bag-sheets.tsx'
import { FlagSheets } from '#app/_ui/labels/flag-sheets.tsx'
import { flagsFor } from '#app/_ui/labels/stick-flag.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { PdfForm } from '#app/g/[group]/labels/_parts/pdf-form.tsx'
import { LabelForm } from '#app/g/[group]/wood/_parts/label-form.tsx'
import { bagLabelOf, flagOf } from '#app/g/[group]/wood/_parts/label-of.ts'
import { labelSettings } from '#app/g/[group]/wood/_parts/label-settings.ts'
import { lotHref } from '#app/g/[group]/wood/_parts/wood-links.ts'
import { memberContext } from '#lib/access/context.ts'
import { getLot } from '#lib/wood/queries.ts'

export const metadata: Metadata = { title: 'Labels of a lot' }

export default async function LotLabelPage(props: PageProps<'/g/[group]/wood/[code]/label'>) {
  const { group: slug, code } = await props.params
  const context = await memberContext(slug)
  const view = await getLot(context.db, context.actor, code)
  if (!view) notFound()
  const settings = labelSettings(await props.searchParams)
  const { lot } = view
  const label = bagLabelOf(lot, view.sums, view.window, {
    today: context.today,
    timeZone: view.timeZone,
    unit: context.person.fahrenheit ? 'F' : 'C',
  })
  const flags = flagsFor(flagOf(lot), label.sticks)
  const href = lotHref(slug, lot.code)
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title="Labels to print"
        crumb={{
          href,
          label: `Lot ${displayCode(lot.code)}`,
        }}
        meta="One label for the bag, and a flag for every stick that is in it."
      />
      <LabelForm href={`${href}/label`} settings={settings} bags={1} flags={flags.length} />
      {settings.what === 'bags' ? (
        <BagSheets labels={[label]} start={settings.start} stock={settings.stock} />
      ) : flags.length === 0 ? (
        <Empty title="No sticks are left in the store">There is nothing to put a flag on.</Empty>
      ) : (
        <FlagSheets labels={flags} start={settings.start} stock={settings.stock} />
      )}
      {flags.length > 0 && (
        <PdfForm slug={slug} of={{ name: 'lot', value: lot.code }} bags={1} flags={flags.length} />
      )}
    </GroupPage>
  )
}
