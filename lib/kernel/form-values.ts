import { z } from 'zod'
import { type CivilDate, parseCivilDate } from '#lib/kernel/civil-date.ts'
import { isUuid } from '#lib/kernel/id.ts'

// What a form sends is text, and an empty control sends an empty text. These pieces turn it into values;
// they also take values that are already of the right kind, so that the seed and the imports use the same schemas.

const blankToUndefined = (value: unknown) =>
  typeof value === 'string' && value.trim() === '' ? undefined : (value ?? undefined)

const trimmed = (value: unknown) => (typeof value === 'string' ? value.trim() : value)

/** Text that must be there. */
export const trimmedText = (max: number, message: string) =>
  z.preprocess(
    trimmed,
    z
      .string({ error: message })
      .min(1, { error: message })
      .max(max, { error: `Keep it under ${max} characters` }),
  )

/** Text that may be left empty; then it is `undefined`. */
export const optionalText = (max: number) =>
  z.preprocess(
    (value) => trimmed(blankToUndefined(value)),
    z
      .string()
      .max(max, { error: `Keep it under ${max} characters` })
      .optional(),
  )

export interface WholeNumberRange {
  readonly min: number
  readonly max: number
  readonly message: string
}

const toNumber = (value: unknown) => {
  const present = blankToUndefined(value)
  return typeof present === 'string' ? Number(present.trim().replace(',', '.')) : present
}

/** A whole number from `min` to `max`. */
export const wholeNumber = ({ min, max, message }: WholeNumberRange) =>
  z.preprocess(
    toNumber,
    z
      .int({ error: message })
      .min(min, { error: message })
      .max(max, { error: `At most ${max}` }),
  )

/** A whole number that may be left empty. */
export const optionalWholeNumber = ({ min, max, message }: WholeNumberRange) =>
  z.preprocess(
    toNumber,
    z
      .int({ error: message })
      .min(min, { error: message })
      .max(max, { error: `At most ${max}` })
      .optional(),
  )

/** A decimal number that may be left empty; a comma is taken for a point. */
export const optionalDecimal = ({ min, max, message }: WholeNumberRange) =>
  z.preprocess(
    toNumber,
    z.number({ error: message }).min(min, { error: message }).max(max, { error: message }).optional(),
  )

const toCivilDate = (value: string, context: z.RefinementCtx, message: string): CivilDate => {
  const date = parseCivilDate(value)
  if (date) return date
  context.addIssue({ code: 'custom', message })
  return z.NEVER
}

/** A day of the calendar, as a date control sends it (YYYY-MM-DD). */
export const civilDateField = (message: string) =>
  z.preprocess(
    trimmed,
    z.string({ error: message }).transform((value, context) => toCivilDate(value, context, message)),
  )

/** A day that may be left empty. */
export const optionalCivilDate = (message = 'This is not a day of the calendar') =>
  z.preprocess(
    (value) => trimmed(blankToUndefined(value)),
    z
      .string()
      .transform((value, context) => toCivilDate(value, context, message))
      .optional(),
  )

/** The id of something chosen in a list. */
export const uuidField = (message: string) =>
  z.preprocess(trimmed, z.string({ error: message }).refine(isUuid, { error: message }))

/** The id of something that may be left unchosen. */
export const optionalUuid = (message = 'Choose one of the list') =>
  z.preprocess(
    (value) => trimmed(blankToUndefined(value)),
    z.string().refine(isUuid, { error: message }).optional(),
  )

/** A tick box: on or off. */
export const ticked = z.preprocess(
  (value) => value === true || value === 'on' || value === 'true' || value === 'yes',
  z.boolean(),
)

/** The key that makes the second click on the same form harmless. */
export const onceKey = uuidField('This form has lost its key. Open the page again')
