'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { addSynonym } from '#lib/varieties/add-synonym.ts'
import { addVariety } from '#lib/varieties/add-variety.ts'
import { editVariety } from '#lib/varieties/edit-variety.ts'
import {
  AddSynonymInput,
  AddVarietyInput,
  EditVarietyInput,
  RemoveSynonymInput,
} from '#lib/varieties/input.ts'
import { varietyRefusalWords } from '#lib/varieties/refusal-words.ts'
import { removeSynonym } from '#lib/varieties/remove-synonym.ts'

const refusal = varietyRefusalWords

export const addVarietyAction = memberAction({
  input: AddVarietyInput,
  command: addVariety,
  refusal,
  done: ({ varietyId }, { slug }) => ({ to: `/g/${slug}/varieties/${varietyId}?done=added` }),
})

export const editVarietyAction = memberAction({
  input: EditVarietyInput,
  command: editVariety,
  refusal,
  done: ({ varietyId }, { slug }) => ({ to: `/g/${slug}/varieties/${varietyId}?done=saved` }),
})

export const addSynonymAction = memberAction({
  input: AddSynonymInput,
  command: addSynonym,
  refusal,
  done: ({ varietyId }, { slug }) => ({ to: `/g/${slug}/varieties/${varietyId}/edit?done=named#names` }),
})

export const removeSynonymAction = memberAction({
  input: RemoveSynonymInput,
  command: removeSynonym,
  refusal,
  done: ({ varietyId }, { slug }) => ({ to: `/g/${slug}/varieties/${varietyId}/edit?done=unnamed#names` }),
})
