import { Facts } from '#app/_ui/facts.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { Tick } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import type { MemberContext } from '#lib/access/context.ts'
import { editGroupAction } from '../actions.ts'
import { timeZoneChoices } from './time-zones.ts'

type Group = MemberContext['group']

const authority =
  'What may be moved, grown and given away differs from place to place and changes. Check with your agricultural authority.'

/** The group's settings as a form, for organisers. */
export function GroupSettingsForm({ group }: { readonly group: Group }) {
  const values = {
    name: group.name,
    region: group.region ?? '',
    timeZone: group.timeZone,
    ...(group.allowsVitis ? { allowsVitis: 'yes' } : {}),
  }
  return (
    <ActionForm action={editGroupAction} values={values} id="group-form" className="form read">
      <Hidden name="group" value={group.slug} />
      <TextField name="name" label="Name of the group" maxLength={80} />
      <TextField
        name="region"
        label="Region"
        help={`The code of ISO 3166-2, such as GB-ENG, FR-BRE or US-WA. It stands beside reminders; no rule is drawn from it. ${authority}`}
        width="mid"
        maxLength={6}
        autoComplete="off"
      />
      <SelectField
        name="timeZone"
        label="Time zone"
        help="Days and the times when claims open and close are read off this clock."
        options={timeZoneChoices(group.timeZone)}
      />
      <Tick
        name="allowsVitis"
        label="Grape wood may be offered in swaps"
        note="Many areas restrict moving grape wood, because serious diseases travel in it. Ask your agricultural authority before you tick this. Citrus and its relatives are never offered."
      />
      <SubmitButton pending="Saving">Save the group’s settings</SubmitButton>
    </ActionForm>
  )
}

/** The same to read, for everybody else. */
export function GroupSettingsFacts({ group }: { readonly group: Group }) {
  return (
    <>
      <Facts
        items={[
          ['Name', group.name],
          ['Region', group.region ?? 'not set'],
          ['Time zone', group.timeZone],
          ['Grape wood', group.allowsVitis ? 'may be offered in swaps' : 'is not offered in swaps'],
        ]}
      />
      <p className="note read">Only organisers can change these. {authority}</p>
    </>
  )
}
