import { z } from 'zod'
import { onceKey, optionalWholeNumber, trimmedText, uuidField } from '#lib/kernel/form-values.ts'

/** A logger's file may be so long; the table refuses more. */
const longestFile = 3 * 1024 * 1024

const blank = (value: unknown) => (value === '' || value === null ? undefined : value)
const chooseFile = 'Choose the logger’s file, or paste what is in it'

interface LoggerUpload {
  readonly name: string
  readonly bytes: Uint8Array
}

const isUpload = (value: unknown): value is LoggerUpload =>
  typeof value === 'object' && value !== null && 'bytes' in value && value.bytes instanceof Uint8Array

/** A file, or its text pasted; the file counts when there are both. */
export const DraftReadingsInput = z
  .object({
    key: onceKey,
    storeId: uuidField('Choose the store'),
    file: z.custom<LoggerUpload | undefined>((value) => value === undefined || isUpload(value)),
    pasted: z.preprocess(blank, z.string().optional()),
  })
  .transform(({ file, pasted, ...rest }, context) => {
    const given = file && file.bytes.length > 0 ? file : null
    const bytes = given?.bytes ?? new TextEncoder().encode(pasted ?? '')
    const isTooLong = bytes.length > longestFile
    if (bytes.length === 0 || isTooLong) {
      const message = isTooLong
        ? 'This is longer than 3 MB. Export a shorter time from the logger'
        : chooseFile
      context.addIssue({ code: 'custom', message, path: [given ? 'file' : 'pasted'] })
      return z.NEVER
    }
    return { ...rest, fileName: (given?.name.trim() || 'pasted text').slice(0, 200), bytes }
  })
export type DraftReadingsInput = z.output<typeof DraftReadingsInput>

const column = optionalWholeNumber({ min: 0, max: 500, message: 'Choose a column from the list' }).transform(
  (value) => value ?? null,
)
const orNull = <Value extends string>(values: readonly [Value, ...Value[]]) =>
  z.preprocess((value) => (values.includes(value as Value) ? value : null), z.enum(values).nullable())

/** What a person answered about a file, as it stands in the address of its preview. */
export const ImportAnswers = z.object({
  days: orNull(['dmy', 'mdy']),
  unit: orNull(['C', 'F']),
  clock: z.preprocess((value) => (value === 'utc' ? 'utc' : 'wall'), z.enum(['wall', 'utc'])),
  timeColumn: column,
  temperatureColumn: column,
})
export type ImportAnswers = z.output<typeof ImportAnswers>

export const ImportReadingsInput = ImportAnswers.extend({
  key: onceKey,
  storeId: uuidField('Choose the store'),
  draftId: uuidField('Choose the file'),
  /** A mark of the readings that were shown. */
  shown: z.string().regex(/^[0-9a-f]{64}$/, { error: 'Look at the file again first' }),
})
export type ImportReadingsInput = z.output<typeof ImportReadingsInput>

export const TakeBackImportInput = z.object({
  key: onceKey,
  importId: uuidField('Choose the import'),
  reason: trimmedText(300, 'Say why these readings are taken back'),
})
export type TakeBackImportInput = z.output<typeof TakeBackImportInput>
