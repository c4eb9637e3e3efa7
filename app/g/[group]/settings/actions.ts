'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { chooseUnits } from '#lib/people/choose-units.ts'
import { editGroup } from '#lib/people/edit-group.ts'
import { ChooseUnitsInput, EditGroupInput } from '#lib/people/input.ts'
import { peopleRefusalWords } from '#lib/people/refusal-words.ts'

export const editGroupAction = memberAction({
  input: EditGroupInput,
  command: editGroup,
  refusal: peopleRefusalWords,
  done: (_value, { slug }) => ({ to: `/g/${slug}/settings?done=group` }),
})

export const chooseUnitsAction = memberAction({
  input: ChooseUnitsInput,
  command: chooseUnits,
  refusal: peopleRefusalWords,
  done: (_value, { slug }) => ({ to: `/g/${slug}/settings?done=units` }),
})
