import { z } from 'zod'
import {
  civilDateField,
  onceKey,
  optionalText,
  optionalUuid,
  ticked,
  trimmedText,
  uuidField,
} from '#lib/kernel/form-values.ts'

const blankIsNothing = (value: unknown) => {
  const text = typeof value === 'string' ? value.trim().toLowerCase() : value
  return text === '' || text === null ? undefined : text
}

const emailMessage = 'Enter an e-mail address, such as wren@example.org'
const optionalEmail = z.preprocess(blankIsNothing, z.email({ error: emailMessage }).max(254).optional())
const email = z.preprocess(blankIsNothing, z.email({ error: emailMessage }).max(254))

const role = z.enum(['organiser', 'steward', 'helper', 'member'], { error: 'Choose what this person does' })
const memberId = uuidField('Choose a person of the group')

const personFields = {
  displayName: trimmedText(80, 'Enter the name that the group knows this person by'),
  phone: optionalText(40),
  email: optionalEmail,
  note: optionalText(500),
}

export const AddMemberInput = z.object({ key: onceKey, ...personFields, role: role.default('member') })
export type AddMemberInput = z.output<typeof AddMemberInput>

export const EditMemberInput = z.object({ memberId, ...personFields })
export type EditMemberInput = z.output<typeof EditMemberInput>

export const ChangeRoleInput = z.object({ memberId, role })
export type ChangeRoleInput = z.output<typeof ChangeRoleInput>

export const RecordDepartureInput = z.object({
  memberId,
  leftOn: civilDateField('Enter the day on which this person left'),
})
export type RecordDepartureInput = z.output<typeof RecordDepartureInput>

export const RecordReturnInput = z.object({ memberId })
export type RecordReturnInput = z.output<typeof RecordReturnInput>

export const InvitePersonInput = z.object({
  key: onceKey,
  email,
  role: role.default('member'),
  memberId: optionalUuid('Choose a person of the group'),
})
export type InvitePersonInput = z.output<typeof InvitePersonInput>

export const RevokeInvitationInput = z.object({ invitationId: uuidField('Choose an invitation') })
export type RevokeInvitationInput = z.output<typeof RevokeInvitationInput>

export const AcceptInvitationInput = z.object({
  token: trimmedText(200, 'This link is not complete. Open it again from the mail'),
  /** What a newcomer wants to be called in this group; the login's own name if left empty. */
  displayName: optionalText(80),
})
export type AcceptInvitationInput = z.output<typeof AcceptInvitationInput>

/** Whether this machine knows an IANA time zone by that name. */
function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en-GB', { timeZone: name })
    return name.includes('/') || name === 'UTC'
  } catch (error) {
    if (error instanceof RangeError) return false
    throw error
  }
}

const region = z.preprocess(
  (value) => (typeof value === 'string' ? value.trim().toUpperCase() || undefined : (value ?? undefined)),
  z
    .string()
    .regex(/^[A-Z]{2}-[A-Z0-9]{1,3}$/, { error: 'A region code looks like GB-ENG, FR-BRE or US-WA' })
    .optional(),
)

const groupFields = {
  name: trimmedText(80, 'Enter the group’s name'),
  /** ISO 3166-2, such as GB-ENG. */
  region,
  /** IANA, such as Europe/London. */
  timeZone: trimmedText(60, 'Choose the group’s time zone').refine(isTimeZone, {
    error: 'Choose a time zone of the list, such as Europe/London',
  }),
}

export const FoundGroupInput = z.object({
  ...groupFields,
  /** The group's part of the address. */
  slug: trimmedText(40, 'Choose the group’s part of the web address').refine(
    (slug) => /^[a-z0-9]+(-[a-z0-9]+)*$/.test(slug),
    {
      error:
        'The group’s part of the web address is small letters, digits and single hyphens, such as long-row',
    },
  ),
  organiserEmail: email,
  /** What the group calls its organiser. */
  organiserName: trimmedText(80, 'Enter the organiser’s name'),
})
export type FoundGroupInput = z.output<typeof FoundGroupInput>

export const EditGroupInput = z.object({ ...groupFields, allowsVitis: ticked })
export type EditGroupInput = z.output<typeof EditGroupInput>

export const ChooseUnitsInput = z.object({
  temperature: z.enum(['C', 'F'], { error: 'Choose °C or °F' }),
  length: z.enum(['cm', 'in'], { error: 'Choose centimetres or inches' }),
})
export type ChooseUnitsInput = z.output<typeof ChooseUnitsInput>
