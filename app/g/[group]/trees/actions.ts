'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { addLimb } from '#lib/trees/add-limb.ts'
import { addTree } from '#lib/trees/add-tree.ts'
import { editLimb } from '#lib/trees/edit-limb.ts'
import { editTree } from '#lib/trees/edit-tree.ts'
import {
  AddLimbInput,
  AddTreeInput,
  EditLimbInput,
  EditTreeInput,
  RecordGoneInput,
  RecordStillHereInput,
} from '#lib/trees/input.ts'
import { recordGone } from '#lib/trees/record-gone.ts'
import { recordStillHere } from '#lib/trees/record-still-here.ts'
import { treeRefusalWords } from '#lib/trees/refusal-words.ts'

const refusal = treeRefusalWords

/** Back to the tree's page, which says what was done. */
const toTree = (said: string) => (tree: { readonly code: string }, group: { readonly slug: string }) => ({
  to: `/g/${group.slug}/trees/${tree.code}?done=${said}`,
})

export const addTreeAction = memberAction({
  input: AddTreeInput,
  command: addTree,
  refusal,
  done: toTree('added'),
})

export const editTreeAction = memberAction({
  input: EditTreeInput,
  command: editTree,
  refusal,
  done: toTree('saved'),
})

export const addLimbAction = memberAction({
  input: AddLimbInput,
  command: addLimb,
  refusal,
  done: toTree('limb'),
})

export const editLimbAction = memberAction({
  input: EditLimbInput,
  command: editLimb,
  refusal,
  done: toTree('saved'),
})

export const recordGoneAction = memberAction({
  input: RecordGoneInput,
  command: recordGone,
  refusal,
  done: toTree('gone'),
})

export const recordStillHereAction = memberAction({
  input: RecordStillHereInput,
  command: recordStillHere,
  refusal,
  done: toTree('here'),
})
