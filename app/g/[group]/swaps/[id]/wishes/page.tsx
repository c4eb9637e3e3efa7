import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { Empty } from '#app/_ui/empty.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
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
import { Columns, Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { oneText, swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { whenAndWhere } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import { addWishAction } from '#app/g/[group]/swaps/[id]/wishes/actions.ts'
import { WishItem } from '#app/g/[group]/swaps/[id]/wishes/wish-item.tsx'
import { purposeWords } from '#app/g/[group]/swaps/[id]/wishes/wish-words.ts'
import { type MemberContext, memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { memberChoices } from '#lib/people/queries.ts'
import { getSwap } from '#lib/swaps/queries.ts'
import { taxonChoices, varietyChoices } from '#lib/varieties/queries.ts'
import { wishPurposes } from '#lib/wishes/input.ts'
import { wishesOf } from '#lib/wishes/queries.ts'

export const metadata: Metadata = { title: 'Wishes' }

const doneWords: Readonly<Record<string, string>> = {
  added: 'The wish is in the list.',
  dropped: 'The wish is off the list.',
  moved: 'The order is changed.',
}

export default async function WishesPage(props: PageProps<'/g/[group]/swaps/[id]/wishes'>) {
  const { group: slug, id } = await props.params
  const query = await props.searchParams
  const context = await memberContext(slug)
  const { db, actor } = context
  const memberId = oneText(query['member']) ?? actor.memberId
  const [swap, wishes, others] = await Promise.all([
    getSwap(db, actor, id),
    wishesOf(db, actor, id, memberId),
    can(actor, 'act-for-others') ? memberChoices(db, actor) : [],
  ])
  const name = others.find((member) => member.id === memberId)?.name
  const isOwn = memberId === actor.memberId
  if (!swap || !wishes || (!isOwn && name === undefined)) notFound()
  const notice = doneWords[oneText(query['done']) ?? '']
  const isOpen = swap.status !== 'finished'
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title={isOwn ? 'Your wishes' : `Wishes of ${name}`}
        crumb={{ href: swapHref(slug, swap.id), label: swap.name }}
        meta={whenAndWhere(swap, { timeZone: context.group.timeZone, today: context.today })}
        lead="What would you like from this swap? Put what matters most first. A wish tells the organiser whom to ask for wood; it promises nothing."
      />
      {notice && <Notice>{notice}</Notice>}
      {others.length > 0 && <WhoseList slug={slug} swapId={swap.id} memberId={memberId} others={others} />}
      <Columns>
        <Section id="list" title="In this order">
          {wishes.length === 0 ? (
            <Empty title="No wishes yet">
              {isOpen ? 'Add the first one with the form on this page.' : 'This swap is finished.'}
            </Empty>
          ) : (
            <Rows ordered>
              {wishes.map((wish) => (
                <WishItem key={wish.wishId} slug={slug} wish={wish} last={wishes.length} mayChange={isOpen} />
              ))}
            </Rows>
          )}
        </Section>
        {isOpen && (
          <Section id="add" title="Add a wish">
            <AddWish slug={slug} swapId={swap.id} memberId={memberId} context={context} />
          </Section>
        )}
      </Columns>
    </GroupPage>
  )
}

interface WhoseListProps {
  readonly slug: string
  readonly swapId: string
  readonly memberId: string
  readonly others: readonly { readonly id: string; readonly name: string; readonly hasAccount: boolean }[]
}

function WhoseList({ slug, swapId, memberId, others }: WhoseListProps) {
  return (
    <form action={swapHref(slug, swapId, 'wishes')} className="panel quiet flex flex-wrap items-end gap-3">
      <SelectField
        name="member"
        label="Whose list"
        width="mid"
        defaultValue={memberId}
        options={others.map(({ id, name, hasAccount }) => ({
          value: id,
          label: hasAccount ? name : `${name}, no account`,
        }))}
      />
      <SubmitButton kind="second">Show</SubmitButton>
    </form>
  )
}

interface AddWishProps {
  readonly slug: string
  readonly swapId: string
  readonly memberId: string
  readonly context: MemberContext
}

async function AddWish({ slug, swapId, memberId, context: { db, actor } }: AddWishProps) {
  const [varieties, taxa] = await Promise.all([varietyChoices(db, actor), taxonChoices(db)])
  return (
    <ActionForm action={addWishAction} values={{ sticks: '1', purpose: 'undecided' }}>
      <Hidden name="group" value={slug} />
      <Hidden name="swapId" value={swapId} />
      <Hidden name="memberId" value={memberId} />
      <OnceKey value={randomUUID()} />
      <SelectField
        name="varietyId"
        label="A variety the group knows"
        empty="None of these"
        options={varieties.map(({ id, name, commonName }) => ({
          value: id,
          label: quoted(name),
          group: commonName,
        }))}
      />
      <TextField
        name="words"
        label="Or in your own words"
        help="Any early peach; a pear that keeps until March."
        maxLength={120}
      />
      <SelectField
        name="taxonKey"
        label="Crop, with a wish in your own words"
        empty="Not said"
        options={taxa.map(({ key, commonName, genus, species }) => ({
          value: key,
          label: `${commonName} (${genus} ${species})`,
        }))}
      />
      <NumberField
        name="sticks"
        label="Sticks"
        help="One stick can make two or more grafts."
        min={1}
        max={100}
      />
      <SelectField
        name="purpose"
        label="What for"
        options={wishPurposes.map((value) => ({ value, label: purposeWords(value) }))}
      />
      <TextField
        name="stock"
        label="What will you put it on?"
        help="A rootstock, a tree. Without a host, a graft waits for next year."
        maxLength={120}
      />
      <SubmitButton pending="Adding the wish">Add the wish</SubmitButton>
    </ActionForm>
  )
}
