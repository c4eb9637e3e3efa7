import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { counted } from '#app/_ui/measures.ts'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { LotFormHead } from '#app/g/[group]/wood/_parts/lot-form-head.tsx'
import { recordLossAction } from '#app/g/[group]/wood/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { findLot } from '#lib/wood/queries.ts'
import { stickSums } from '#lib/wood/view.ts'

export const metadata: Metadata = { title: 'Write sticks off' }

const fates = [
  { value: 'destroyed', label: 'Destroyed', note: 'thrown out or burnt: mould, dried, suspect' },
  { value: 'lost', label: 'Lost', note: 'not to be found, or there were fewer than counted' },
]

export default async function RecordLossPage(props: PageProps<'/g/[group]/wood/[code]/loss'>) {
  const { group: slug, code } = await props.params
  const context = await memberContext(slug)
  const lot = await findLot(context.db, context.actor, code)
  if (!lot) notFound()
  const { free, promised } = stickSums(lot.sticks)
  return (
    <GroupPage context={context} current="wood">
      <LotFormHead
        slug={slug}
        lot={lot}
        title="Write sticks off"
        meta={`${counted(free, 'stick')} free in the store${promised > 0 ? `, ${promised} more claimed` : ''}.`}
      />
      <ActionForm action={recordLossAction} className="form read">
        <Hidden name="group" value={slug} />
        <Hidden name="lotId" value={lot.lotId} />
        <OnceKey value={randomUUID()} />
        <NumberField
          name="sticks"
          label="Sticks"
          help="Free ones only. Claimed sticks are written off after their claims are given back."
          min={1}
          max={free}
        />
        <PickGroup name="fate" legend="They were" options={fates} />
        <TextArea name="reason" label="What happened" rows={2} maxLength={300} />
        <p>
          <SubmitButton pending="Writing them off">Write them off</SubmitButton>
        </p>
        <p className="note">
          Past its window is no reason by itself: nick the bark, and green is good. Suspect wood is not
          composted or passed on; ask your agricultural authority what to do with it.
        </p>
      </ActionForm>
    </GroupPage>
  )
}
