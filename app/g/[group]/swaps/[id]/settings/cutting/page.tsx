import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { recordedDay } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { GetForm } from '#app/_ui/form/get-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { SeasonStrip } from '#app/_ui/season-strip.tsx'
import { Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { CutPlanRows } from '#app/g/[group]/swaps/_parts/cut-plan-rows.tsx'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { PrintButton } from '#app/g/[group]/wood/_parts/print-button.tsx'
import { memberContext } from '#lib/access/context.ts'
import { addDays } from '#lib/kernel/civil-date.ts'
import { CutPlanQuestion, type CutPlanView, getCutPlan } from '#lib/swaps/cut-plan.ts'

export const metadata: Metadata = { title: 'When to cut for the swap' }

type Query = Readonly<Record<string, string | string[] | undefined>>

const textsOf = (query: Query, names: readonly string[]): Record<string, string> =>
  Object.fromEntries(
    names.flatMap((name) => {
      const text = query[name]
      return typeof text === 'string' && text !== '' ? [[name, text] as const] : []
    }),
  )

function errorsOf(issues: readonly { readonly path: readonly PropertyKey[]; readonly message: string }[]) {
  const errors: Record<string, string[]> = {}
  for (const { path, message } of issues) {
    const name = String(path[0] ?? '')
    errors[name] = [...(errors[name] ?? []), message]
  }
  return errors
}

export default async function CutPlanPage(props: PageProps<'/g/[group]/swaps/[id]/settings/cutting'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  const unit = context.person.fahrenheit ? 'F' : 'C'
  const texts = textsOf(await props.searchParams, ['degrees', 'from', 'until'])
  const asked = CutPlanQuestion.safeParse({ ...texts, unit })
  const plan = await getCutPlan(
    context.db,
    context.actor,
    id,
    asked.data ?? { celsius: undefined, from: undefined, until: undefined },
  )
  if (!plan) notFound()
  const { swap } = plan
  const { today } = context
  const outside = plan.crops.filter((crop) => crop.good === null)
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title="When to cut for the swap"
        crumb={{ href: swapHref(slug, swap.id), label: swap.name }}
        meta={`For ${recordedDay(swap.heldOn, today)}, packed damp in a sealed bag and kept at ${temperature(plan.celsius, unit)}.`}
        acts={<PrintButton />}
      />
      {outside.length > 0 && (
        <Notice tone="stop">
          The day of this swap is outside what {outside.map((crop) => crop.commonName).join(', ')} can be cut
          for.
        </Notice>
      )}
      {plan.crops.length === 0 ? (
        <Empty title="Nothing to cut yet">No limb of the group’s trees has the name of a variety.</Empty>
      ) : (
        <>
          <Strip plan={plan} today={today} />
          <CutPlanRows plan={plan} today={today} unit={unit} />
          <p className="note read">
            Cut only dormant wood, on a dry day, with clean shears. The days are reckoned with a convention
            fitted to sparse trials: look at the wood before it is offered, and before you discard it.
          </p>
        </>
      )}
      <Section id="reckoned" title="Reckon with other figures">
        <div className="read print:hidden">
          <Figures
            plan={plan}
            unit={unit}
            action={`${swapHref(slug, swap.id)}/settings/cutting`}
            texts={texts}
            errors={asked.success ? {} : errorsOf(asked.error.issues)}
          />
        </div>
      </Section>
    </GroupPage>
  )
}

function Strip({
  plan,
  today,
}: {
  readonly plan: CutPlanView
  readonly today: CutPlanView['swap']['heldOn']
}) {
  const { swap, crops } = plan
  const bars = crops.flatMap(({ commonName, good }) =>
    good ? [{ label: commonName, from: good.from, to: good.until }] : [],
  )
  const first = bars.map(({ from }) => from).sort()[0]
  if (!first) return null
  return (
    <SeasonStrip
      id="cutting"
      from={addDays(first, -7)}
      to={addDays(swap.heldOn, 14)}
      today={today}
      swap={swap.heldOn}
      bars={bars}
    />
  )
}

interface FiguresProps {
  readonly plan: CutPlanView
  readonly unit: TemperatureUnit
  readonly action: string
  readonly texts: Record<string, string>
  readonly errors: Readonly<Record<string, readonly string[]>>
}

function Figures({ plan, unit, action, texts, errors }: FiguresProps) {
  const { celsius, dormantFrom, dormantUntil } = plan
  const degrees = unit === 'F' ? Math.round(celsius * 1.8 + 32) : celsius
  return (
    <GetForm
      action={action}
      id="figures"
      label="Other figures"
      errors={errors}
      values={{
        degrees: String(degrees),
        ...(dormantFrom && { from: dormantFrom }),
        ...(dormantUntil && { until: dormantUntil }),
        ...texts,
      }}
    >
      <Hidden name="unit" value={unit} />
      <NumberField name="degrees" label={`Temperature of the store, °${unit}`} decimal />
      <DateField
        name="from"
        label="First day on which dormant wood can be cut"
        help="Once the leaves are off. The first of December for a swap of winter or spring unless you say otherwise: common practice of the north, no source."
      />
      <DateField
        name="until"
        label="Last day on which it is dormant"
        help="Before the first swell. Left empty, wood can be cut until the day of the swap."
      />
      <p>
        <button type="submit" className="btn second">
          Reckon again
        </button>
      </p>
    </GetForm>
  )
}
