import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can, notAllowed } from '#lib/access/policy.ts'
import { taxonChoices } from '#lib/varieties/queries.ts'
import { varietyRefusalWords } from '#lib/varieties/refusal-words.ts'
import { GroupPage } from '../../_frame/group-page.tsx'
import { firstOf } from '../../people/_parts/first-of.ts'
import { synonymKinds } from '../_parts/synonym-kinds.ts'
import { VarietyFields } from '../_parts/variety-fields.tsx'
import { addVarietyAction } from '../actions.ts'

export const metadata: Metadata = { title: 'Add a variety' }

const otherNames = [0, 1, 2]

export default async function NewVarietyPage(props: PageProps<'/g/[group]/varieties/new'>) {
  const [{ group: slug }, { name }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const taxa = await taxonChoices(context.db)
  const values = { name: firstOf(name), nameCertainty: 'likely', protection: 'none_known' }
  return (
    <GroupPage context={context} current="varieties">
      <PageHead title="Add a variety" crumb={{ href: `/g/${slug}/varieties`, label: 'Varieties' }} />
      {can(context.actor, 'edit-varieties') ? (
        <ActionForm action={addVarietyAction} values={values} label="Variety" className="form read">
          <Hidden name="group" value={slug} />
          <OnceKey value={randomUUID()} />
          <VarietyFields taxa={taxa} today={context.today} />
          <fieldset className="panel quiet stack">
            <legend>
              <b>Other names</b>
            </legend>
            <p className="help">A search finds the variety under each of them. More can be added later.</p>
            {otherNames.map((i) => (
              <div key={i} className="grid gap-3 sm:grid-cols-[1fr_13rem]">
                <TextField
                  name={`synonyms.${i}.name`}
                  label={`Other name ${i + 1}`}
                  maxLength={100}
                  autoComplete="off"
                />
                <SelectField
                  name={`synonyms.${i}.kind`}
                  label={`Kind of name ${i + 1}`}
                  options={synonymKinds}
                />
              </div>
            ))}
          </fieldset>
          <SubmitButton pending="Adding the variety">Add the variety</SubmitButton>
        </ActionForm>
      ) : (
        <Refusal {...varietyRefusalWords(notAllowed('edit-varieties'))} />
      )}
    </GroupPage>
  )
}
