import { z } from 'zod'
import { findCheckState } from '#lib/attempts/check-states.ts'
import { type WrapKey, wraps } from '#lib/grafting/care-schedule.ts'
import { checkpointKeys } from '#lib/grafting/checkpoints.ts'
import { failureCauses } from '#lib/grafting/failure-causes.ts'
import { findMethod } from '#lib/grafting/methods.ts'
import {
  civilDateField,
  onceKey,
  optionalDecimal,
  optionalText,
  optionalUuid,
  optionalWholeNumber,
  trimmedText,
  uuidField,
  wholeNumber,
} from '#lib/kernel/form-values.ts'
import { isUuid } from '#lib/kernel/id.ts'

export const skillBands = ['first_ten', 'ten_to_hundred', 'over_hundred', 'not_said'] as const

/** As many pieces as one entry may hold; more than a nursery makes in a day. */
export const mostPieces = 10_000

const wrapKeys = wraps.map(({ key }) => key) as [WrapKey, ...WrapKey[]]

export const methodMessage = 'Choose how it was done'

export const blankToNothing = (value: unknown) => (value === '' || value === null ? undefined : value)

export const blankToNotSaid = (value: unknown) => (value === undefined || value === '' ? 'not_said' : value)

/** One of a list of several kinds of thing, as its control sends it: `limb:` and an id. */
export interface Chosen<Kind extends string> {
  readonly kind: Kind
  readonly id: string
}

/** A choice among several kinds of thing that may be left open. */
export const chosenField = <Kind extends string>(kinds: readonly Kind[], message: string) =>
  z.preprocess(
    blankToNothing,
    z
      .string()
      .transform((text, context): Chosen<Kind> => {
        const [kind = '', id = ''] = text.split(':')
        const known = kinds.find((name) => name === kind)
        if (known !== undefined && isUuid(id)) return { kind: known, id }
        context.addIssue({ code: 'custom', message })
        return z.NEVER
      })
      .optional(),
  )

/** How it was done, beyond the method: what holds it, and for cuttings how they are kept. */
export const craftFields = {
  hostLimbId: optionalUuid('Choose a limb of the list'),
  host: chosenField(['tree', 'limb'], 'Choose a tree or limb of the list'),
  wrap: z.preprocess(
    blankToNothing,
    z.enum(wrapKeys, { error: 'Choose what holds it, or leave it' }).optional(),
  ),
  nodes: optionalWholeNumber({ min: 1, max: 100, message: 'Say how many nodes each has, or leave it empty' }),
  bottomHeatC: optionalDecimal({ min: 0, max: 50, message: 'A temperature in °C from 0 to 50, or nothing' }),
  hormone: z.preprocess(blankToNothing, z.enum(['yes', 'no'], { error: 'Yes, no, or leave it' }).optional()),
}

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
    ...craftFields,
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

/** What is written of an attempt: the input without the key of its form. */
export type AttemptInput = Omit<RecordAttemptInput, 'key'>

export const WithdrawAttemptInput = z.object({
  key: onceKey,
  attemptId: uuidField('Choose the entry again'),
  reason: trimmedText(400, 'Say what was wrong with this entry'),
})
export type WithdrawAttemptInput = z.output<typeof WithdrawAttemptInput>

/** The key of a cause that is in none of the usual words. */
export const ownWordsCause = 'own-words'

/** What can be named as the end of a piece that is counted as failed. */
export const causesOfFailure = [
  ...failureCauses.filter((cause) => cause.countsAs === 'dead'),
  { key: ownWordsCause, label: 'Something else, in your words', countsAs: 'dead', tellsHealthSteward: false },
] as const

/** Why pieces are not known, where it is one of the usual reasons. */
export const unknownReasons = [
  { key: 'not_attempted', label: 'Never made after all' },
  { key: 'label_lost', label: 'The label is lost, so I cannot tell which they are' },
] as const

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
  words: optionalText(200),
})

/** Named causes: each once, and one in own words says them. */
const causesField = z
  .array(NamedCause)
  .default([])
  .transform((causes) => causes.filter(({ pieces }) => pieces > 0))
  .refine((causes) => new Set(causes.map(({ cause }) => cause)).size === causes.length, {
    error: 'Name each cause once',
  })
  .refine((causes) => causes.every(({ cause, words }) => cause !== ownWordsCause || words !== undefined), {
    error: 'Say in your words what it was',
  })

/** The look that is answered, and how the living stand; both may be left out. */
export const lookFields = {
  checkpoint: z.preprocess(
    blankToNothing,
    z.enum(checkpointKeys, { error: 'Choose the look again' }).optional(),
  ),
  state: z.preprocess(
    blankToNothing,
    z
      .string()
      .refine((key) => findCheckState(key) !== null, { error: 'Choose one of the list' })
      .optional(),
  ),
  unknownWhy: z.preprocess(
    blankToNothing,
    z.enum(['not_attempted', 'label_lost'], { error: 'Choose one of the list' }).optional(),
  ),
}

/** A dated look at all pieces of an attempt. */
export const RecordCheckInput = z.object({
  key: onceKey,
  attemptId: uuidField('Choose the entry again'),
  checkedOn: civilDateField('Say on which day you looked'),
  alive: counted('are alive'),
  dead: counted('are dead'),
  unknown: counted('are not known'),
  causes: causesField,
  ...lookFields,
  note: optionalText(2000),
  supersedesId: optionalUuid('Choose the look that is corrected again'),
})
export type RecordCheckInput = z.output<typeof RecordCheckInput>
