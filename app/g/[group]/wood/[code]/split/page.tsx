import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { storeOptions } from '#app/g/[group]/wood/_parts/choices.ts'
import { LotFormHead } from '#app/g/[group]/wood/_parts/lot-form-head.tsx'
import { splitLotAction } from '#app/g/[group]/wood/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { findLot, storeChoices } from '#lib/wood/queries.ts'

export const metadata: Metadata = { title: 'Split a lot' }

export default async function SplitLotPage(props: PageProps<'/g/[group]/wood/[code]/split'>) {
  const { group: slug, code } = await props.params
  const context = await memberContext(slug)
  const { db, actor } = context
  const [lot, stores] = await Promise.all([findLot(db, actor, code), storeChoices(db, actor)])
  if (!lot) notFound()
  return (
    <GroupPage context={context} current="wood">
      <LotFormHead
        slug={slug}
        lot={lot}
        title="Put a part of it into another store"
        meta={lot.storeName ? `It is in ${lot.storeName} now.` : 'Nobody has said where it is now.'}
      />
      <ActionForm action={splitLotAction} className="form read">
        <Hidden name="group" value={slug} />
        <Hidden name="lotId" value={lot.lotId} />
        <OnceKey value={randomUUID()} />
        <NumberField
          name="sticks"
          label="Sticks that go there"
          help="Of those that are free. What is claimed or kept for the waiting list stays in this lot."
          min={1}
        />
        <SelectField
          name="storeId"
          label="Into which store"
          empty="Choose the store"
          options={storeOptions(stores.filter((store) => store.id !== lot.storeId))}
        />
        <TextField name="reason" label="Why" help="May be left empty." maxLength={300} />
        <p>
          <SubmitButton pending="Splitting the lot">Make it a lot of its own</SubmitButton>
        </p>
        <p className="note">
          The part gets a code of its own: write it on a new bag. It keeps the limb, the cut day and where the
          wood has been until now, so its window goes on from there.
        </p>
      </ActionForm>
    </GroupPage>
  )
}
