import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { recordedDay } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import type { FormValues } from '#app/_ui/form/form-state.ts'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { counted } from '#app/_ui/measures.ts'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { LotFormHead } from '#app/g/[group]/wood/_parts/lot-form-head.tsx'
import { inspectLotAction } from '#app/g/[group]/wood/[code]/inspect/actions.ts'
import { LookFields } from '#app/g/[group]/wood/[code]/inspect/look-fields.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import { memberChoices } from '#lib/people/queries.ts'
import { type InspectionView, lotInspections } from '#lib/wood/inspections.ts'
import { mayTendLot } from '#lib/wood/may-tend.ts'
import { findLot } from '#lib/wood/queries.ts'
import { stickSums } from '#lib/wood/view.ts'

export const metadata: Metadata = { title: 'Record a look' }

export default async function InspectPage(props: PageProps<'/g/[group]/wood/[code]/inspect'>) {
  const { group: slug, code } = await props.params
  const context = await memberContext(slug)
  const { db, actor, group, today } = context
  const lot = await findLot(db, actor, code)
  if (!lot || !mayTendLot(actor, lot)) notFound()
  const { correct } = await props.searchParams
  const looks = await lotInspections(db, actor, lot.lotId)
  const earlier = looks.find((look) => look.inspectionId === correct && !look.isCorrected) ?? null
  const speaksForOthers = can(actor, 'act-for-others')
  const members = speaksForOthers ? await memberChoices(db, actor) : []
  const { free, promised } = stickSums(lot.sticks)
  const day = earlier && civilDateIn(group.timeZone, earlier.inspectedAt)
  return (
    <GroupPage context={context} current="wood">
      <LotFormHead
        slug={slug}
        lot={lot}
        title={earlier && day ? `Correct the look of ${recordedDay(day, today)}` : 'Record a look'}
        meta={`${counted(free + promised, 'stick')} in ${lot.storeName ?? 'a store nobody has named'}.`}
      />
      <ActionForm
        action={inspectLotAction}
        values={valuesOf(earlier, day ?? today, actor.memberId)}
        className="form read"
      >
        <Hidden name="group" value={slug} />
        <Hidden name="lotId" value={lot.lotId} />
        {earlier && <Hidden name="supersedesId" value={earlier.inspectionId} />}
        <OnceKey value={randomUUID()} />
        <LookFields
          today={today}
          cutOn={lot.cutOn}
          free={free}
          promised={promised}
          mayHold={can(actor, 'place-holds')}
          isHeld={lot.hold !== null}
          inspectors={members.map(({ id, name }) => ({ value: id, label: name }))}
        />
        <p>
          <SubmitButton pending="Saving the look" glove block>
            Save the look
          </SubmitButton>
        </p>
        <p className="note">
          {earlier &&
            'The first look stays on the record. A hold or sticks destroyed for it stay as they are. '}
          Do not diagnose a disease yourself: keep suspect wood apart and ask your agricultural authority.
          Wipe hands and knife between bags.
        </p>
      </ActionForm>
    </GroupPage>
  )
}

/** What the form holds at first: the look to be corrected, or the usual answers. */
function valuesOf(earlier: InspectionView | null, day: CivilDate, memberId: string): FormValues {
  const usual = { onDay: day, decision: 'keep', budStage: '', nick: 'not_done', inspectorId: memberId }
  if (!earlier) return usual
  return {
    ...usual,
    condition: String(earlier.condition),
    mould: earlier.mould,
    shrivel: earlier.shrivel,
    budStage: earlier.budStage === null ? '' : String(earlier.budStage),
    nick: earlier.nick,
    note: earlier.note ?? '',
    inspectorId: earlier.inspectorId,
  }
}
