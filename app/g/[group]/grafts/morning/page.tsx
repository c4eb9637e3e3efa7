import type { Metadata } from 'next'
import { Filters } from '#app/_ui/filters.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { growerOf } from '#app/g/[group]/grafts/_parts/grower-of.ts'
import { MorningForm } from '#app/g/[group]/grafts/_parts/morning-form.tsx'
import { memberContext } from '#lib/access/context.ts'
import { receivedWood } from '#lib/attempts/queries.ts'
import { limbChoices, treeChoices } from '#lib/trees/queries.ts'
import { varietyChoices } from '#lib/varieties/queries.ts'
import { GroupPage } from '../../_frame/group-page.tsx'

export const metadata: Metadata = { title: 'A morning’s work' }

const rowChoices = [4, 8, 16, 30] as const

export default async function MorningPage(props: PageProps<'/g/[group]/grafts/morning'>) {
  const [{ group: slug }, query] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const grower = await growerOf(context, query['for'])
  const rows = rowChoices.find((count) => String(count) === query['rows']) ?? rowChoices[0]
  const [received, ownLimbs, varieties, trees, limbs] = await Promise.all([
    receivedWood(db, actor, grower.id),
    limbChoices(db, actor, { keeperId: grower.id }),
    varietyChoices(db, actor),
    treeChoices(db, actor),
    limbChoices(db, actor),
  ])
  const whom = grower.name ? `&for=${grower.id}` : ''
  return (
    <GroupPage context={context} current="grafts">
      <PageHead
        title={grower.name ? `A morning’s work of ${grower.name}` : 'A morning’s work'}
        crumb={{
          href: `/g/${slug}/grafts${grower.name ? `?for=${grower.id}` : ''}`,
          label: grower.name ? `Grafts of ${grower.name}` : 'My grafts',
        }}
        lead="Say once what all of it shares, then a row for each wood and place. Rows left empty are skipped; all rows are saved, or none."
      />
      <Filters
        label="How many rows; choose before you begin"
        items={rowChoices.map((count) => ({
          href: `/g/${slug}/grafts/morning?rows=${count}${whom}`,
          label: `${count} rows`,
          current: count === rows,
        }))}
      />
      <MorningForm
        slug={slug}
        growerId={grower.name ? grower.id : null}
        rows={rows}
        received={received}
        ownLimbs={ownLimbs}
        varieties={varieties}
        trees={trees}
        limbs={limbs}
        today={today}
      />
    </GroupPage>
  )
}
