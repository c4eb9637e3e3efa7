import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { storeOptions } from '#app/g/[group]/wood/_parts/choices.ts'
import { LotFormHead } from '#app/g/[group]/wood/_parts/lot-form-head.tsx'
import { moveLotAction } from '#app/g/[group]/wood/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { findLot, storeChoices } from '#lib/wood/queries.ts'

export const metadata: Metadata = { title: 'Record a move' }

export default async function MoveLotPage(props: PageProps<'/g/[group]/wood/[code]/move'>) {
  const { group: slug, code } = await props.params
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const [lot, stores] = await Promise.all([findLot(db, actor, code), storeChoices(db, actor)])
  if (!lot) notFound()
  return (
    <GroupPage context={context} current="wood">
      <LotFormHead
        slug={slug}
        lot={lot}
        title="Record a move"
        meta={lot.storeName ? `It is in ${lot.storeName} now.` : 'Nobody has said where it is now.'}
      />
      <ActionForm action={moveLotAction} values={{ onDay: today }} className="form read">
        <Hidden name="group" value={slug} />
        <Hidden name="lotId" value={lot.lotId} />
        <OnceKey value={randomUUID()} />
        <SelectField
          name="storeId"
          label="Moved to"
          empty="Choose the store"
          options={storeOptions(stores.filter((store) => store.id !== lot.storeId))}
        />
        <DateField
          name="onDay"
          label="Day"
          help="Noon of this day is taken for the move."
          min={lot.cutOn}
          max={today}
          today={today}
        />
        <p>
          <SubmitButton pending="Recording the move">Record the move</SubmitButton>
        </p>
        <p className="note">
          The window follows where the wood has been, so an hour in a warm car needs no entry, but two days in
          a shed do.
        </p>
      </ActionForm>
    </GroupPage>
  )
}
