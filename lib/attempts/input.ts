import { z } from 'zod'
import { failureCauses } from '#lib/grafting/failure-causes.ts'
import { findMethod } from '#lib/grafting/methods.ts'
import {
  civilDateField,
  onceKey,
  optionalText,
  optionalUuid,
  optionalWholeNumber,
  trimmedText,
  uuidField,
  wholeNumber,
} from '#lib/kernel/form-values.ts'

const skillBands = ['first_ten', 'ten_to_hundred', 'over_hundred', 'not_said'] as const

/** As many pieces as one entry may hold; more than a nursery makes in a day. */
const mostPieces = 10_000

const methodMessage = 'Choose how it was done'

const blankToNotSaid = (value: unknown) => (value === undefined || value === '' ? 'not_said' : value)

/** A batch of grafts, buds, cuttings or layers made on one day by one method. */
export const RecordAttemptInput = z
  .object({
    key: onceKey,
    growerId: optionalUuid('Choose who made them'),
    source: z.enum(['lot', 'own'], { error: 'Say where the wood came from' }),
    lotId: optionalUuid('Choose the wood you used'),
    fromLimbId: optionalUuid('Choose a limb of the list'),
    varietyId: optionalUuid('Choose a variety of the list'),
    method: z
      .string({ error: methodMessage })
      .refine((key) => findMethod(key) !== null, { error: methodMessage }),
    treatment: optionalText(120),
    stock: optionalText(120),
    hostTreeId: optionalUuid('Choose a tree of the list'),
    madeOn: civilDateField('Say on which day it was done'),
    pieces: wholeNumber({ min: 1, max: mostPieces, message: 'Say how many pieces you made, at least 1' }),
    sticksUsed: optionalWholeNumber({
      min: 1,
      max: mostPieces,
      message: 'Say how many sticks you used, or leave it empty',
    }),
    skill: z.preprocess(blankToNotSaid, z.enum(skillBands, { error: 'Choose one of the four' })),
    note: optionalText(2000),
  })
  .check((context) => {
    const { source, lotId, fromLimbId, varietyId } = context.value
    if (source === 'lot' && lotId === undefined) {
      context.issues.push({
        code: 'custom',
        path: ['lotId'],
        message: 'Choose the wood you used',
        input: lotId,
      })
    }
    if (source === 'own' && fromLimbId === undefined && varietyId === undefined) {
      const message = 'Choose the limb it came from, or say which variety it is'
      context.issues.push({ code: 'custom', path: ['varietyId'], message, input: varietyId })
    }
  })
export type RecordAttemptInput = z.output<typeof RecordAttemptInput>

export const WithdrawAttemptInput = z.object({
  key: onceKey,
  attemptId: uuidField('Choose the entry again'),
  reason: trimmedText(400, 'Say what was wrong with this entry'),
})
export type WithdrawAttemptInput = z.output<typeof WithdrawAttemptInput>

/** What can be named as the end of a piece that is counted as failed. */
export const causesOfFailure = failureCauses.filter((cause) => cause.countsAs === 'dead')

const counted = (what: string) =>
  z.preprocess(
    (value) => (value === undefined || value === '' ? 0 : value),
    wholeNumber({ min: 0, max: mostPieces, message: `Say how many ${what}: 0 or more` }),
  )

const NamedCause = z.object({
  cause: z.string().refine((key) => causesOfFailure.some((cause) => cause.key === key), {
    error: 'Choose a cause of the list',
  }),
  pieces: counted('failed in this way'),
})

/** A dated look at all pieces of an attempt. */
export const RecordCheckInput = z.object({
  key: onceKey,
  attemptId: uuidField('Choose the entry again'),
  checkedOn: civilDateField('Say on which day you looked'),
  alive: counted('are alive'),
  dead: counted('are dead'),
  unknown: counted('are not known'),
  causes: z
    .array(NamedCause)
    .default([])
    .transform((causes) => causes.filter(({ pieces }) => pieces > 0))
    .refine((causes) => new Set(causes.map(({ cause }) => cause)).size === causes.length, {
      error: 'Name each cause once',
    }),
  note: optionalText(2000),
  supersedesId: optionalUuid('Choose the look that is corrected again'),
})
export type RecordCheckInput = z.output<typeof RecordCheckInput>
