'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { addMember } from '#lib/people/add-member.ts'
import { changeRole } from '#lib/people/change-role.ts'
import { editMember } from '#lib/people/edit-member.ts'
import {
  AddMemberInput,
  ChangeRoleInput,
  EditMemberInput,
  InvitePersonInput,
  RecordDepartureInput,
  RecordReturnInput,
  RevokeInvitationInput,
} from '#lib/people/input.ts'
import { invitePerson } from '#lib/people/invite-person.ts'
import { recordDeparture } from '#lib/people/record-departure.ts'
import { recordReturn } from '#lib/people/record-return.ts'
import { peopleRefusalWords } from '#lib/people/refusal-words.ts'
import { revokeInvitation } from '#lib/people/revoke-invitation.ts'

const refusal = peopleRefusalWords

export const addMemberAction = memberAction({
  input: AddMemberInput,
  command: addMember,
  refusal,
  done: ({ memberId }, { slug }) => ({ to: `/g/${slug}/people/${memberId}?done=added` }),
})

export const editMemberAction = memberAction({
  input: EditMemberInput,
  command: editMember,
  refusal,
  done: ({ memberId }, { slug }) => ({ to: `/g/${slug}/people/${memberId}?done=saved` }),
})

export const changeRoleAction = memberAction({
  input: ChangeRoleInput,
  command: changeRole,
  refusal,
  done: ({ memberId }, { slug }) => ({ to: `/g/${slug}/people/${memberId}?done=role` }),
})

export const recordDepartureAction = memberAction({
  input: RecordDepartureInput,
  command: recordDeparture,
  refusal,
  done: ({ memberId }, { slug }) => ({ to: `/g/${slug}/people/${memberId}?done=left` }),
})

export const recordReturnAction = memberAction({
  input: RecordReturnInput,
  command: recordReturn,
  refusal,
  done: ({ memberId }, { slug }) => ({ to: `/g/${slug}/people/${memberId}?done=back` }),
})

export const invitePersonAction = memberAction({
  input: InvitePersonInput,
  command: (db, actor, input) => invitePerson(db, actor, input),
  refusal,
  done: ({ email, link }) => ({
    message: link
      ? `An invitation is on its way to ${email}. If no mail arrives, pass this link on yourself, to nobody else: ${link}`
      : `The invitation to ${email} was sent before; it is in the list of members.`,
  }),
})

export const revokeInvitationAction = memberAction({
  input: RevokeInvitationInput,
  command: revokeInvitation,
  refusal,
  done: (_value, { slug }) => ({ to: `/g/${slug}/people?done=revoked` }),
})
