import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'

/** Name and contact details of a person. */
export function MemberFields() {
  return (
    <>
      <TextField
        name="displayName"
        label="Name"
        help="As the group knows this person."
        maxLength={80}
        autoComplete="off"
      />
      <TextField
        name="phone"
        label="Telephone"
        help="May stay empty. Only the person, organisers and health stewards see it."
        type="tel"
        width="mid"
        maxLength={40}
        autoComplete="off"
      />
      <TextField
        name="email"
        label="E-mail"
        help="May stay empty. Seen by the same people; it does not send an invitation."
        type="email"
        autoComplete="off"
      />
      <TextArea
        name="note"
        label="Note"
        help="Seen by the same people, so write nothing that this person should not read."
        rows={3}
        maxLength={500}
      />
    </>
  )
}
