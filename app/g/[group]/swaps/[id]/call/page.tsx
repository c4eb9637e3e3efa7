import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { LotCode } from '#app/_ui/code.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { NotForYou } from '#app/g/[group]/swaps/_parts/not-for-you.tsx'
import { oneText, swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { whenAndWhere } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import { askForWoodAction } from '#app/g/[group]/swaps/[id]/promises/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { getSwap } from '#lib/swaps/queries.ts'
import type { SwapView } from '#lib/swaps/view.ts'
import { callForWood } from '#lib/wishes/queries.ts'
import type { GivingLimb, WantedVariety } from '#lib/wishes/view.ts'

export const metadata: Metadata = { title: 'Call for wood' }

const doneWords: Readonly<Record<string, string>> = {
  asked: 'The keeper is being written to.',
  noted: 'The request is noted. This keeper has no address here: ask in person.',
}

export default async function CallPage(props: PageProps<'/g/[group]/swaps/[id]/call'>) {
  const { group: slug, id } = await props.params
  const query = await props.searchParams
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const swap = await getSwap(db, actor, id)
  if (!swap) notFound()
  const back = { href: swapHref(slug, swap.id), label: swap.name }
  if (!can(actor, 'run-swaps')) {
    return (
      <GroupPage context={context} current="swaps">
        <PageHead title="Call for wood" crumb={back} />
        <NotForYou right="run-swaps" back={back} />
      </GroupPage>
    )
  }
  const { varieties, inWords } = await callForWood(db, actor, swap.id)
  const notice = doneWords[oneText(query['done']) ?? '']
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title="Call for wood"
        crumb={back}
        meta={whenAndWhere(swap, { timeZone: context.group.timeZone, today })}
        lead="What members wish for, against what the stores hold and the group’s limbs can give. What is missing most comes first."
        acts={<ActionLink href={swapHref(slug, swap.id, 'promises')}>Asked and promised</ActionLink>}
      />
      {notice && <Notice>{notice}</Notice>}
      <Section id="varieties" title="Wished for">
        {varieties.length === 0 ? (
          <Empty
            title="No wishes for a variety yet"
            action={
              <ActionLink href={swapHref(slug, swap.id, 'wishes')}>Write wishes down for somebody</ActionLink>
            }
          >
            Members write down what they would like on the wishes page of this swap.
          </Empty>
        ) : (
          <Rows>
            {varieties.map((wanted) => (
              <WantedItem key={wanted.varietyId} slug={slug} swap={swap} wanted={wanted} today={today} />
            ))}
          </Rows>
        )}
      </Section>
      {inWords.length > 0 && (
        <Section id="in-words" title="Wishes in words">
          <Rows>
            {inWords.map(({ words, crop, members, sticksWished }) => (
              <li key={`${words} ${crop}`}>
                <p>
                  {words}
                  {crop !== null && <span className="soft">, {crop}</span>}
                </p>
                <p className="note">
                  {counted(members, 'member')}, {counted(sticksWished, 'stick')}
                </p>
              </li>
            ))}
          </Rows>
        </Section>
      )}
    </GroupPage>
  )
}

interface WantedItemProps {
  readonly slug: string
  readonly swap: SwapView
  readonly wanted: WantedVariety
  readonly today: CivilDate
}

function WantedItem({ slug, swap, wanted, today }: WantedItemProps) {
  const { sticksWished, sticksInStore, sticksPromised } = wanted
  const missing = Math.max(0, sticksWished - sticksInStore - sticksPromised)
  return (
    <li>
      <p>
        <VarietyName name={wanted.name} />
        <span className="soft">, {wanted.commonName}</span>
      </p>
      <p className="note">
        {counted(wanted.members, 'member')} would like {counted(sticksWished, 'stick')}. In store{' '}
        {sticksInStore}, promised {sticksPromised}.{' '}
        {missing > 0 ? <b>{missing} missing.</b> : 'Enough, if all is brought.'}
      </p>
      {wanted.limbs.length === 0 ? (
        <p className="note">No limb of the group can give it: gone, on hold, or never recorded.</p>
      ) : (
        <ul className="stack-s">
          {wanted.limbs.map((limb) => (
            <LimbLine key={limb.limbId} slug={slug} swap={swap} limb={limb} wanted={missing} today={today} />
          ))}
        </ul>
      )}
    </li>
  )
}

interface LimbLineProps {
  readonly slug: string
  readonly swap: SwapView
  readonly limb: GivingLimb
  readonly wanted: number
  readonly today: CivilDate
}

function LimbLine({ slug, swap, limb, wanted, today }: LimbLineProps) {
  const { keeper, pledge } = limb
  return (
    <li>
      {keeper.name}, tree <LotCode code={limb.treeCode} href={`/g/${slug}/trees/${limb.treeCode}`} />, limb{' '}
      {limb.mark}
      {pledge ? (
        <span className="note">
          : {counted(pledge.sticks, 'stick')}{' '}
          {pledge.status === 'asked' ? 'asked for, no answer yet' : 'promised'}
        </span>
      ) : (
        swap.status !== 'finished' && (
          <details>
            <summary>
              Ask {keeper.name}
              <span className="vh"> for wood of limb {limb.mark}</span>
            </summary>
            <ActionForm
              action={askForWoodAction}
              values={{ sticks: String(Math.max(1, wanted)), bringBy: swap.heldOn }}
            >
              <Hidden name="group" value={slug} />
              <Hidden name="swapId" value={swap.id} />
              <Hidden name="limbId" value={limb.limbId} />
              <OnceKey value={randomUUID()} />
              <NumberField name="sticks" label="Sticks" min={1} max={1000} />
              <DateField name="bringBy" label="Brought by" max={swap.heldOn} today={today} />
              <SubmitButton kind="second" pending="Asking">
                Ask for wood
              </SubmitButton>
            </ActionForm>
          </details>
        )
      )}
    </li>
  )
}
