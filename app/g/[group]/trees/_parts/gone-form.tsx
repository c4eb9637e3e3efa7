import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { recordGoneAction, recordStillHereAction } from '../actions.ts'

interface GoneFormProps {
  readonly slug: string
  readonly treeId: string
  readonly limbId?: string
  readonly goneOn: CivilDate | null
  readonly today: CivilDate
}

/** Records that a tree or a limb is gone, or takes it back. */
export function GoneForm({ slug, treeId, limbId, goneOn, today }: GoneFormProps) {
  const what = limbId ? 'limb' : 'tree'
  const carried = (
    <>
      <Hidden name="group" value={slug} />
      <Hidden name="treeId" value={treeId} />
      {limbId && <Hidden name="limbId" value={limbId} />}
    </>
  )
  if (goneOn) {
    return (
      <ActionForm action={recordStillHereAction} id="here-form" className="form read">
        {carried}
        <SubmitButton kind="second" pending="Recording it">
          It is still here after all
        </SubmitButton>
      </ActionForm>
    )
  }
  return (
    <ActionForm action={recordGoneAction} values={{ goneOn: today }} id="gone-form" className="form read">
      {carried}
      <p>
        Dead, felled, broken off or dug out. Nothing is removed from the record, so that wood it gave can
        still be traced.
      </p>
      <DateField
        name="goneOn"
        label="Gone on"
        help="The day it was seen, if nobody knows better."
        max={today}
        today={today}
      />
      <SubmitButton kind="stop" pending="Recording it">
        Record that the {what} is gone
      </SubmitButton>
    </ActionForm>
  )
}
