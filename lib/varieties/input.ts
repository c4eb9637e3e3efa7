import { z } from 'zod'
import { cultivarSearchKey, normaliseEpithet } from '#lib/grafting/cultivar-name.ts'
import {
  onceKey,
  optionalCivilDate,
  optionalText,
  optionalWholeNumber,
  trimmedText,
  uuidField,
} from '#lib/kernel/form-values.ts'

const nameMessage = 'Enter the variety’s name, without quotes'

/** A name as it is stored: without quotes. It must keep a letter or a digit, or nothing could find it again. */
const epithet = trimmedText(100, nameMessage)
  .transform(normaliseEpithet)
  .refine((name) => cultivarSearchKey(name) !== '', { error: nameMessage })

const blankToUndefined = (value: unknown) => (value === '' || value === null ? undefined : value)
const choice = <const Values extends readonly [string, ...string[]]>(values: Values, message: string) =>
  z.enum(values, { error: message })
const withDefault = <Schema extends z.ZodType>(schema: Schema) => z.preprocess(blankToUndefined, schema)

const synonymKind = choice(['synonym', 'selling_name', 'breeder_code'], 'Say what kind of name this is')

/** Rows of a form that were left empty are left out. */
const synonyms = z
  .array(z.object({ name: optionalText(100), kind: withDefault(synonymKind.default('synonym')) }))
  .max(30, { error: 'At most 30 other names' })
  .default([])
  .transform((rows) =>
    rows.flatMap(({ name, kind }) => {
      const bare = normaliseEpithet(name ?? '')
      return cultivarSearchKey(bare) === '' ? [] : [{ name: bare, kind }]
    }),
  )

const varietyFields = {
  taxonKey: trimmedText(80, 'Choose the kind of fruit'),
  name: epithet,
  nameCertainty: withDefault(
    choice(['settled', 'likely', 'disputed', 'unknown'], 'Say how sure the name is').default('likely'),
  ),
  note: optionalText(2000),
  protection: withDefault(
    choice(
      ['none_known', 'expired', 'in_force', 'pending', 'breeders_right', 'unknown'],
      'Say what is known of a patent or a breeder’s right',
    ).default('none_known'),
  ),
  protectionNote: optionalText(500),
  protectionCheckedOn: optionalCivilDate(),
  introducedYear: optionalWholeNumber({ min: 1000, max: 2100, message: 'Enter a year, such as 1962' }),
}

export const AddVarietyInput = z.object({ key: onceKey, ...varietyFields, synonyms })
export type AddVarietyInput = z.output<typeof AddVarietyInput>

export const EditVarietyInput = z.object({ varietyId: uuidField('Choose a variety'), ...varietyFields })
export type EditVarietyInput = z.output<typeof EditVarietyInput>

export const AddSynonymInput = z.object({
  varietyId: uuidField('Choose a variety'),
  name: trimmedText(100, 'Enter the other name')
    .transform(normaliseEpithet)
    .refine((name) => cultivarSearchKey(name) !== '', { error: 'Enter the other name' }),
  kind: synonymKind,
})
export type AddSynonymInput = z.output<typeof AddSynonymInput>

export const RemoveSynonymInput = z.object({ synonymId: uuidField('Choose one of the other names') })
export type RemoveSynonymInput = z.output<typeof RemoveSynonymInput>
