'use server'

import { formTree } from '#app/_actions/form-tree.ts'
import { memberAction } from '#app/_actions/member-action.ts'
import { importHref } from '#app/g/[group]/wood/stores/_parts/store-links.ts'
import { draftReadings } from '#lib/wood/draft-readings.ts'
import { DraftReadingsInput, ImportReadingsInput, TakeBackImportInput } from '#lib/wood/import-input.ts'
import { importReadings } from '#lib/wood/import-readings.ts'
import { importRefusalWords } from '#lib/wood/import-refusal-words.ts'
import { takeBackImport } from '#lib/wood/take-back-import.ts'

/** The texts of the form, and its file. */
async function withFile(form: FormData): Promise<unknown> {
  const texts = formTree(form) as object
  const file = form.get('file')
  // A file field that was left empty still sends something.
  if (!(file instanceof File) || file.size === 0) return { ...texts, file: undefined }
  return { ...texts, file: { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) } }
}

export const draftReadingsAction = memberAction({
  input: DraftReadingsInput,
  command: draftReadings,
  refusal: importRefusalWords,
  entries: withFile,
  done: ({ storeId, draftId }, { slug }) => ({ to: importHref(slug, storeId, draftId) }),
})

export const importReadingsAction = memberAction({
  input: ImportReadingsInput,
  command: importReadings,
  refusal: importRefusalWords,
  done: ({ storeId, written }, { slug }) => ({
    to: `/g/${slug}/wood/stores/${storeId}?done=imported&readings=${written}`,
  }),
})

export const takeBackImportAction = memberAction({
  input: TakeBackImportInput,
  command: takeBackImport,
  refusal: importRefusalWords,
  done: ({ storeId, readings }, { slug }) => ({
    to: `/g/${slug}/wood/stores/${storeId}?done=taken-back&readings=${readings}`,
  }),
})
