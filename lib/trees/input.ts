import { z } from 'zod'
import {
  civilDateField,
  onceKey,
  optionalCivilDate,
  optionalDecimal,
  optionalText,
  optionalUuid,
  optionalWholeNumber,
  trimmedText,
  uuidField,
} from '#lib/kernel/form-values.ts'

const centimetresPerInch = 2.54
const blankToUndefined = (value: unknown) => (value === '' || value === null ? undefined : value)
const highest = 5000

const heightMessage = 'Enter the height above the ground, from 0 to 50 m'

const limbFields = {
  varietyId: optionalUuid('Choose a variety of the list'),
  /** What the label on the limb says, or would: A, B, C from the ground up. */
  mark: trimmedText(8, 'Give the limb a letter').transform((mark) => mark.toUpperCase()),
  heightCm: optionalWholeNumber({ min: 0, max: highest, message: heightMessage }),
  /** The same for people who measure in inches; it wins over an empty `heightCm`. */
  heightInches: optionalDecimal({ min: 0, max: highest / centimetresPerInch, message: heightMessage }),
  side: optionalText(40),
  origin: z.enum(['own', 'grafted', 'unknown'], {
    error: 'Say whether the limb is the tree’s own or was grafted',
  }),
  identity: z.preprocess(
    blankToUndefined,
    z
      .enum(['dna', 'expert', 'fruited_true', 'nursery_tag', 'donor_word', 'unknown'], {
        error: 'Say how the name is known',
      })
      .default('unknown'),
  ),
  seenInLeafOn: optionalCivilDate(),
  healthNote: optionalText(500),
}

/** The attempt that grew into the limb, when it came from wood the group knows. */
const fromAttemptId = optionalUuid('Choose one of the recorded grafts')

interface Heights {
  readonly heightCm?: number | undefined
  readonly heightInches?: number | undefined
}

type InCentimetres<Limb extends Heights> = Omit<Limb, keyof Heights> & { heightCm?: number | undefined }

function inCentimetres<Limb extends Heights>({ heightCm, heightInches, ...limb }: Limb): InCentimetres<Limb> {
  const typed = heightInches === undefined ? undefined : Math.round(heightInches * centimetresPerInch)
  const known = heightCm ?? typed
  return known === undefined ? limb : { ...limb, heightCm: known }
}

const NewLimb = z.object({ ...limbFields, fromAttemptId }).transform(inCentimetres)
export type NewLimb = z.output<typeof NewLimb>

const treeFields = {
  keeperId: uuidField('Choose who looks after the tree'),
  rootstock: optionalText(80),
  place: optionalText(120),
  plantedOn: optionalCivilDate(),
  note: optionalText(2000),
}

export const AddTreeInput = z
  .object({
    key: onceKey,
    ...treeFields,
    limbs: z
      .array(NewLimb, { error: 'A tree has at least one limb' })
      .min(1, { error: 'A tree has at least one limb' })
      .max(60, { error: 'At most 60 limbs at once' }),
  })
  .superRefine(({ limbs }, context) => {
    const seen = new Set<string>()
    limbs.forEach(({ mark }, i) => {
      if (seen.has(mark)) {
        context.addIssue({
          code: 'custom',
          path: ['limbs', i, 'mark'],
          message: `Another limb is ${mark} already; give this one its own letter`,
        })
      }
      seen.add(mark)
    })
  })
export type AddTreeInput = z.output<typeof AddTreeInput>

export const EditTreeInput = z.object({ treeId: uuidField('Choose a tree'), ...treeFields })
export type EditTreeInput = z.output<typeof EditTreeInput>

export const AddLimbInput = z
  .object({ key: onceKey, treeId: uuidField('Choose a tree'), ...limbFields, fromAttemptId })
  .transform(inCentimetres)
export type AddLimbInput = z.output<typeof AddLimbInput>

export const EditLimbInput = z
  .object({ limbId: uuidField('Choose a limb'), ...limbFields })
  .transform(inCentimetres)
export type EditLimbInput = z.output<typeof EditLimbInput>

export const RecordGoneInput = z.object({
  treeId: uuidField('Choose a tree'),
  limbId: optionalUuid('Choose a limb'),
  goneOn: civilDateField('Enter the day on which it was gone'),
})
export type RecordGoneInput = z.output<typeof RecordGoneInput>

export const RecordStillHereInput = z.object({
  treeId: uuidField('Choose a tree'),
  limbId: optionalUuid('Choose a limb'),
})
export type RecordStillHereInput = z.output<typeof RecordStillHereInput>
