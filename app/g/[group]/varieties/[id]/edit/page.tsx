import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Section } from '#app/_ui/section.tsx'
import { memberContext } from '#lib/access/context.ts'
import { notAllowed } from '#lib/access/policy.ts'
import { formatEpithet } from '#lib/grafting/cultivar-name.ts'
import { synonymWords } from '#lib/varieties/protection.ts'
import { getVariety, taxonChoices } from '#lib/varieties/queries.ts'
import { varietyRefusalWords } from '#lib/varieties/refusal-words.ts'
import type { VarietyView } from '#lib/varieties/view.ts'
import { GroupPage } from '../../../_frame/group-page.tsx'
import { DoneNotice } from '../../../people/_parts/done-notice.tsx'
import { synonymKinds } from '../../_parts/synonym-kinds.ts'
import { VarietyFields } from '../../_parts/variety-fields.tsx'
import { addSynonymAction, editVarietyAction, removeSynonymAction } from '../../actions.ts'

export const metadata: Metadata = { title: 'Change a variety' }

const notices = {
  named: 'The other name was added; a search finds the variety under it.',
  unnamed: 'The other name was taken away.',
}

export default async function EditVarietyPage(props: PageProps<'/g/[group]/varieties/[id]/edit'>) {
  const [{ group: slug, id }, { done }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const [variety, taxa] = await Promise.all([
    getVariety(context.db, context.actor, id),
    taxonChoices(context.db),
  ])
  if (!variety) notFound()
  return (
    <GroupPage context={context} current="varieties">
      <DoneNotice done={done} words={notices} />
      <PageHead
        title={`Change ${formatEpithet(variety.name)}`}
        crumb={{ href: `/g/${slug}/varieties/${id}`, label: formatEpithet(variety.name) }}
      />
      {variety.mayEdit ? (
        <>
          <Section title="Other names" id="names">
            <OtherNames slug={slug} variety={variety} />
          </Section>
          <Section title="The variety" id="variety">
            <ActionForm
              action={editVarietyAction}
              values={valuesOf(variety)}
              id="variety-form"
              className="form read"
            >
              <Hidden name="group" value={slug} />
              <Hidden name="varietyId" value={id} />
              <VarietyFields taxa={taxa} today={context.today} />
              {!variety.mayLiftProtection && (
                <p className="note">
                  You may note a patent or a right. Taking one away is for a steward or an organiser.
                </p>
              )}
              <SubmitButton pending="Saving">Save the variety</SubmitButton>
            </ActionForm>
          </Section>
        </>
      ) : (
        <Refusal {...varietyRefusalWords(notAllowed('edit-varieties'))} />
      )}
    </GroupPage>
  )
}

const valuesOf = (variety: VarietyView) => ({
  taxonKey: variety.taxonKey,
  name: variety.name,
  nameCertainty: variety.nameCertainty,
  note: variety.note ?? '',
  protection: variety.protection,
  protectionNote: variety.protectionNote ?? '',
  protectionCheckedOn: variety.protectionCheckedOn ?? '',
  introducedYear: variety.introducedYear === null ? '' : String(variety.introducedYear),
})

interface OtherNamesProps {
  readonly slug: string
  readonly variety: VarietyView
}

function OtherNames({ slug, variety }: OtherNamesProps) {
  return (
    <>
      {variety.synonyms.length > 0 && (
        <Rows>
          {variety.synonyms.map((synonym) => (
            <li key={synonym.id} className="sec-head">
              <p>
                {synonym.name} <span className="note">{synonymWords[synonym.kind]}</span>
              </p>
              <ActionForm
                action={removeSynonymAction}
                id={`remove-${synonym.id}`}
                label={`The name ${synonym.name}`}
              >
                <Hidden name="group" value={slug} />
                <Hidden name="synonymId" value={synonym.id} />
                <SubmitButton kind="plain" small pending="Taking it away">
                  Take it away
                </SubmitButton>
              </ActionForm>
            </li>
          ))}
        </Rows>
      )}
      <ActionForm
        action={addSynonymAction}
        values={{ kind: 'synonym' }}
        id="synonym-form"
        label="Another name"
        className="form read"
      >
        <Hidden name="group" value={slug} />
        <Hidden name="varietyId" value={variety.id} />
        <TextField name="name" label="Add another name" maxLength={100} autoComplete="off" />
        <SelectField name="kind" label="Kind of name" options={synonymKinds} width="mid" />
        <SubmitButton kind="second" pending="Adding it">
          Add the name
        </SubmitButton>
      </ActionForm>
    </>
  )
}
