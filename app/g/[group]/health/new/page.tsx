import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { LotCode } from '#app/_ui/code.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { AuthorityCaution } from '#app/g/[group]/health/_parts/authority-caution.tsx'
import { placeHoldAction } from '#app/g/[group]/health/actions.ts'
import { limbOptions } from '#app/g/[group]/wood/_parts/choices.ts'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { memberContext } from '#lib/access/context.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { healthRefusalWords } from '#lib/health/refusal-words.ts'
import { limbChoices } from '#lib/trees/queries.ts'
import { findLot } from '#lib/wood/queries.ts'

export const metadata: Metadata = { title: 'Place a hold' }

export default async function PlaceHoldPage(props: PageProps<'/g/[group]/health/new'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const { db, actor } = context
  const query = await props.searchParams
  const lot = typeof query['lot'] === 'string' ? await findLot(db, actor, query['lot']) : null
  const limbs = lot ? [] : await limbChoices(db, actor)
  const refused = can(actor, 'place-holds') ? null : healthRefusalWords(notAllowed('place-holds'))
  return (
    <GroupPage context={context} current="health">
      <PageHead
        title="Place a hold"
        crumb={{ href: `/g/${slug}/health`, label: 'Health holds' }}
        meta={
          lot ? (
            <>
              On lot <LotCode code={lot.code} />, <VarietyName name={lot.varietyName} />{' '}
              {cropWord(lot.commonName)}.
            </>
          ) : (
            'On a limb, with every lot that was cut from it. To hold a single lot, begin on the lot’s page.'
          )
        }
      />
      <AuthorityCaution region={context.group.region} />
      {refused ? (
        <div className="read">
          <Refusal {...refused} />
        </div>
      ) : (
        <ActionForm
          action={placeHoldAction}
          values={{ limbId: typeof query['limb'] === 'string' ? query['limb'] : '' }}
          className="form read"
        >
          <Hidden name="group" value={slug} />
          <OnceKey value={randomUUID()} />
          {lot ? (
            <Hidden name="lotId" value={lot.lotId} />
          ) : (
            <SelectField
              name="limbId"
              label="Tree and limb"
              empty="Choose the limb"
              options={limbOptions(limbs)}
            />
          )}
          <WhatWasSeen />
        </ActionForm>
      )}
    </GroupPage>
  )
}

function WhatWasSeen() {
  return (
    <>
      <TextArea
        name="reason"
        label="What was seen, and where"
        help="Plain words, no diagnosis: “blackened tips with ooze on the sunny side, photo 3”. It prints on the labels."
        rows={3}
        maxLength={500}
      />
      <p>
        <SubmitButton kind="stop" pending="Placing the hold">
          Place the hold
        </SubmitButton>
      </p>
      <p className="note">
        It stops at once: new lots, offerings, claims and hand-overs. Wood may still be moved to a place
        apart, and destroyed. What was handed over before is listed on the hold’s page.
      </p>
    </>
  )
}
