import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { recordedDay } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { counted } from '#app/_ui/measures.ts'
import { Refusal } from '#app/_ui/refusal.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { LotFormHead } from '#app/g/[group]/wood/_parts/lot-form-head.tsx'
import { moveSentence } from '#app/g/[group]/wood/_parts/lot-ledger.tsx'
import { correctMoveAction } from '#app/g/[group]/wood/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { civilDateIn } from '#lib/kernel/civil-date.ts'
import { getLot } from '#lib/wood/queries.ts'

export const metadata: Metadata = { title: 'Correct an entry' }

export default async function CorrectMovePage(props: PageProps<'/g/[group]/wood/[code]/correct'>) {
  const { group: slug, code } = await props.params
  const context = await memberContext(slug)
  const { entry } = await props.searchParams
  const view = await getLot(context.db, context.actor, code, typeof entry === 'string' ? entry : undefined)
  const move = view?.moves.find(({ moveId }) => moveId === entry)
  if (!view || !move) notFound()
  const day = recordedDay(civilDateIn(view.timeZone, move.happenedAt), context.today)
  return (
    <GroupPage context={context} current="wood">
      <LotFormHead
        slug={slug}
        lot={view.lot}
        title="Correct an entry"
        meta={
          <>
            The entry: {day}, {moveSentence(move)}, {counted(move.sticks, 'stick')}.
          </>
        }
      />
      {move.canBeCorrected ? (
        <ActionForm action={correctMoveAction} className="form read">
          <Hidden name="group" value={slug} />
          <Hidden name="moveId" value={move.moveId} />
          <OnceKey value={randomUUID()} />
          <NumberField
            name="sticks"
            label="The right number"
            help="Leave empty if it should not have been written at all."
            min={1}
            max={2000}
          />
          <TextArea name="reason" label="What was wrong" rows={2} maxLength={300} />
          <p>
            <SubmitButton pending="Correcting">Correct the entry</SubmitButton>
          </p>
          <p className="note">
            The entry stays where it is. Its mirror image is added, with your reason, so that anybody can
            follow the count.
          </p>
        </ActionForm>
      ) : (
        <div className="read">
          <Refusal
            title="This entry is not corrected here"
            message="It was corrected before, is a correction itself, was recorded by somebody else, or belongs to a claim or a graft."
            next={[
              'Claims are given back on the swap’s page, grafts are withdrawn on their own.',
              'Ask a helper or the organiser.',
            ]}
          />
        </div>
      )}
    </GroupPage>
  )
}
