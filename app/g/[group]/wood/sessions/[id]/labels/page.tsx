import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { longDay } from '#app/_ui/dates.ts'
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
import { memberContext } from '#lib/access/context.ts'
import { getSession } from '#lib/wood/queries.ts'

export const metadata: Metadata = { title: 'Labels of a cutting session' }

export default async function SessionLabelsPage(props: PageProps<'/g/[group]/wood/sessions/[id]/labels'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  const session = await getSession(context.db, context.actor, id)
  if (!session) notFound()
  const settings = labelSettings(await props.searchParams)
  const on = {
    today: context.today,
    timeZone: context.group.timeZone,
    unit: context.person.fahrenheit ? ('F' as const) : ('C' as const),
  }
  const bags = session.lots
    .map(({ lot, sums, window }) => ({ lot, label: bagLabelOf(lot, sums, window, on) }))
    .filter(({ label }) => label.sticks > 0)
  const flags = bags.flatMap(({ lot, label }) => flagsFor(flagOf(lot), label.sticks))
  const href = `/g/${slug}/wood/sessions/${id}`
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title="Labels to print"
        crumb={{ href, label: `Cut on ${longDay(session.cutOn, context.today)}` }}
        meta="One label for each bag, and a flag for every stick: sticks leave their bag before anything else."
      />
      <LabelForm href={`${href}/labels`} settings={settings} bags={bags.length} flags={flags.length} />
      {bags.length === 0 ? (
        <Empty title="No sticks are left in a store">There is nothing to label.</Empty>
      ) : settings.what === 'bags' ? (
        <BagSheets labels={bags.map(({ label }) => label)} start={settings.start} stock={settings.stock} />
      ) : (
        <FlagSheets labels={flags} start={settings.start} stock={settings.stock} />
      )}
      {flags.length > 0 && (
        <PdfForm slug={slug} of={{ name: 'session', value: id }} bags={bags.length} flags={flags.length} />
      )}
    </GroupPage>
  )
}
