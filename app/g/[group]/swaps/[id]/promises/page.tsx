import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { displayCode } from '#app/_ui/code.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { quoted } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { oneText, swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { whenAndWhere } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import { promiseWoodAction, remindKeepersAction } from '#app/g/[group]/swaps/[id]/promises/actions.ts'
import { PledgeItem } from '#app/g/[group]/swaps/[id]/promises/pledge-item.tsx'
import { type MemberContext, memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { keeperHistories, pledgesOf } from '#lib/pledges/queries.ts'
import type { PledgeRow } from '#lib/pledges/view.ts'
import { getSwap } from '#lib/swaps/queries.ts'
import type { SwapView } from '#lib/swaps/view.ts'
import { limbChoices } from '#lib/trees/queries.ts'

export const metadata: Metadata = { title: 'Promised wood' }

const doneWords: Readonly<Record<string, string>> = {
  promised: 'The promise is written down. Thank you.',
  answered: 'The answer is written down.',
  settled: 'Noted.',
  reminded: 'Everybody who has not answered is being written to.',
  nobody: 'There was nobody to remind: all have answered, were reminded before, or have no address.',
}

const open = ['asked', 'promised']

export default async function PromisesPage(props: PageProps<'/g/[group]/swaps/[id]/promises'>) {
  const { group: slug, id } = await props.params
  const query = await props.searchParams
  const context = await memberContext(slug)
  const { db, actor } = context
  const [swap, pledges, histories] = await Promise.all([
    getSwap(db, actor, id),
    pledgesOf(db, actor, id),
    keeperHistories(db, actor),
  ])
  if (!swap) notFound()
  const notice = doneWords[oneText(query['done']) ?? '']
  const isEverybodys = can(actor, 'act-for-others')
  const waiting = pledges.filter(({ status }) => open.includes(status))
  const settled = pledges.filter(({ status }) => !open.includes(status))
  const item = (pledge: PledgeRow) => (
    <PledgeItem
      key={pledge.pledgeId}
      slug={slug}
      swap={swap}
      pledge={pledge}
      history={histories?.get(pledge.keeper.id) ?? null}
      context={context}
    />
  )
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title={isEverybodys ? 'Promised wood' : 'Wood you can bring'}
        crumb={{ href: swapHref(slug, swap.id), label: swap.name }}
        meta={whenAndWhere(swap, { timeZone: context.group.timeZone, today: context.today })}
        lead="A promise is not stock: wood counts when it has been brought and looked at."
      />
      {notice && <Notice>{notice}</Notice>}
      <Section id="open" title="Asked and promised">
        {waiting.length === 0 ? (
          <Empty title="Nothing is asked for or promised">
            {isEverybodys
              ? 'The call for wood shows what is wished for, and whom to ask.'
              : 'Nobody has asked you for wood. You can promise some all the same.'}
          </Empty>
        ) : (
          <Rows>{waiting.map(item)}</Rows>
        )}
        {can(actor, 'run-swaps') && waiting.some(({ status }) => status === 'asked') && (
          <ActionForm action={remindKeepersAction} className="">
            <Hidden name="group" value={slug} />
            <Hidden name="swapId" value={swap.id} />
            <OnceKey value={randomUUID()} />
            <SubmitButton kind="second" pending="Writing">
              Remind those who have not answered
            </SubmitButton>
          </ActionForm>
        )}
      </Section>
      {settled.length > 0 && (
        <Section id="settled" title="Closed">
          <Rows>{settled.map(item)}</Rows>
        </Section>
      )}
      {swap.status !== 'finished' && (
        <Section id="promise" title="Promise wood">
          <PromiseForm slug={slug} swap={swap} pledges={waiting} context={context} />
        </Section>
      )}
    </GroupPage>
  )
}

interface PromiseFormProps {
  readonly slug: string
  readonly swap: SwapView
  readonly pledges: readonly PledgeRow[]
  readonly context: MemberContext
}

async function PromiseForm({ slug, swap, pledges, context: { db, actor, today } }: PromiseFormProps) {
  const mine = can(actor, 'act-for-others') ? {} : { keeperId: actor.memberId }
  const taken = new Set(pledges.map(({ treeCode, mark }) => `${treeCode} ${mark}`))
  const limbs = (await limbChoices(db, actor, mine)).filter(
    ({ treeCode, mark, onHold }) => !onHold && !taken.has(`${treeCode} ${mark}`),
  )
  if (limbs.length === 0) {
    return (
      <p className="note">
        No limb is free to promise: each is promised, on hold, or not yet in the list of trees.
      </p>
    )
  }
  return (
    <ActionForm action={promiseWoodAction} values={{ sticks: '6', bringBy: swap.heldOn }}>
      <Hidden name="group" value={slug} />
      <Hidden name="swapId" value={swap.id} />
      <OnceKey value={randomUUID()} />
      <SelectField
        name="limbId"
        label="From which limb"
        empty="Choose the limb"
        options={limbs.map((limb) => ({
          value: limb.limbId,
          label: `${limb.varietyName === null ? 'No name' : quoted(limb.varietyName)}, tree ${displayCode(limb.treeCode)}, limb ${limb.mark}`,
          group: limb.keeperName,
        }))}
      />
      <NumberField name="sticks" label="Sticks" min={1} max={1000} />
      <DateField name="bringBy" label="Brought by" max={swap.heldOn} today={today} />
      <TextField name="note" label="A word about it" help="May be left empty." maxLength={500} />
      <SubmitButton pending="Writing it down">Promise</SubmitButton>
    </ActionForm>
  )
}
