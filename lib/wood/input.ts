import { z } from 'zod'
import {
  civilDateField,
  onceKey,
  optionalDecimal,
  optionalText,
  optionalUuid,
  optionalWholeNumber,
  ticked,
  trimmedText,
  uuidField,
  wholeNumber,
} from '#lib/kernel/form-values.ts'
import { DiameterBand, LotKind, Packaging, StoreKind, ToolCare } from '#lib/platform/generated/enums.ts'

const oneOf = <const Values extends Readonly<Record<string, string>>>(values: Values, message: string) =>
  z.enum(values, { error: message })

const celsiusRange = { min: -40, max: 50 }
const celsiusMessage = 'Enter a temperature a store can have, such as 3.5'

/** A temperature in the person's own unit; a form in Fahrenheit says so with `unit`. */
const degrees = (message: string) => optionalDecimal({ min: -40, max: 122, message })
const unit = z.preprocess((value) => (value === 'F' ? 'F' : 'C'), z.enum(['C', 'F']))

/** °C to the tenth that the table keeps. */
const toTenth = (value: number, from: 'C' | 'F') =>
  Math.round((from === 'F' ? (value - 32) / 1.8 : value) * 10) / 10

interface StoreFields {
  readonly typedCelsius?: number | undefined
  readonly unit: 'C' | 'F'
}

/** Turns what was typed into °C; refuses what no store can have. */
function inCelsius<Fields extends StoreFields>(
  { unit: from, typedCelsius, ...rest }: Fields,
  context: z.RefinementCtx,
) {
  if (typedCelsius === undefined) return { ...rest, typedCelsius: null }
  const celsius = toTenth(typedCelsius, from)
  if (celsius < celsiusRange.min || celsius > celsiusRange.max) {
    context.addIssue({ code: 'custom', message: celsiusMessage, path: ['typedCelsius'] })
    return z.NEVER
  }
  return { ...rest, typedCelsius: celsius }
}

const storeFields = {
  name: trimmedText(60, 'Give the store a name, such as “Group fridge, shelf 2”'),
  kind: oneOf(StoreKind, 'Choose what kind of place it is'),
  keeperId: optionalUuid('Choose the keeper from the list'),
  typedCelsius: degrees(celsiusMessage),
  unit,
}

export const AddStoreInput = z.object({ key: onceKey, ...storeFields }).transform(inCelsius)
/** A store without a temperature may leave it out. */
type MayLeaveOutCelsius<Input extends { readonly typedCelsius: number | null }> = Omit<
  Input,
  'typedCelsius'
> & {
  readonly typedCelsius?: number | null
}
export type AddStoreInput = MayLeaveOutCelsius<z.output<typeof AddStoreInput>>

export const EditStoreInput = z
  .object({ storeId: uuidField('Choose the store'), ...storeFields, closed: ticked })
  .transform(inCelsius)
export type EditStoreInput = MayLeaveOutCelsius<z.output<typeof EditStoreInput>>

export const ReportReadingInput = z
  .object({
    key: onceKey,
    storeId: uuidField('Choose the store'),
    onDay: civilDateField('Say on which day the thermometer was read'),
    atTime: z.preprocess(
      (value) => (value === '' || value === null ? undefined : value),
      z
        .string()
        .regex(/^([01]\d|2[0-3]):[0-5]\d$/, { error: 'Enter the time as 14:30, or leave it empty' })
        .optional(),
    ),
    typedCelsius: degrees(celsiusMessage),
    unit,
    basis: z.preprocess((value) => value ?? 'typed', z.enum(['typed', 'logger'])),
  })
  .transform(inCelsius)
  .transform(({ typedCelsius, ...rest }, context) => {
    if (typedCelsius !== null) return { ...rest, celsius: typedCelsius }
    context.addIssue({ code: 'custom', message: 'Enter what the thermometer shows', path: ['typedCelsius'] })
    return z.NEVER
  })
export type ReportReadingInput = z.output<typeof ReportReadingInput>

// One lot of the form. All but limb and sticks may be left as in the lot above.
const lotFields = z.object({
  limbId: uuidField('Choose the limb this wood was cut from'),
  sticks: wholeNumber({ min: 1, max: 2000, message: 'Say how many sticks were cut' }),
  kind: z.preprocess(blank, oneOf(LotKind, 'Choose what kind of wood it is').optional()),
  diameter: z.preprocess(blank, oneOf(DiameterBand, 'Choose how thick the sticks are').optional()),
  budStage: optionalWholeNumber({ min: 0, max: 99, message: 'Choose how the buds looked' }),
  packaging: z.preprocess(blank, oneOf(Packaging, 'Choose how the sticks are packed').optional()),
  storeId: optionalUuid('Choose the store from the list'),
  note: optionalText(300),
})
type LotFields = z.output<typeof lotFields>

function blank(value: unknown): unknown {
  return value === '' || value === null ? undefined : value
}

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null

/** A block of the form in which nobody chose a limb or entered a number. */
const isEmptyLot = (value: unknown) =>
  !isRecord(value) ||
  [value['limbId'], value['sticks'], value['note']].every((entry) => blank(entry) === undefined)

/** The blocks in the order of the form; an empty one stays as a hole, so that errors keep their places. */
function toLotList(value: unknown): unknown {
  const numbered = Array.isArray(value)
    ? value.map((lot: unknown, at) => [at, lot] as const)
    : Object.entries(isRecord(value) ? value : {})
        .filter(([name]) => /^\d{1,2}$/.test(name))
        .map(([name, lot]) => [Number(name), lot] as const)
  const lots: unknown[] = []
  for (const [at, lot] of numbered) lots[at] = isEmptyLot(lot) ? undefined : lot
  return Array.from(lots)
}

const inherited = ['kind', 'diameter', 'budStage', 'packaging', 'storeId'] as const
type Inherited = (typeof inherited)[number]
const missing: Record<Inherited, string> = {
  kind: 'Choose what kind of wood it is',
  diameter: 'Choose how thick the sticks are',
  budStage: 'Choose how the buds looked',
  packaging: 'Choose how the sticks are packed',
  storeId: 'Choose where the wood is kept',
}

export interface LotToCut {
  /** The place of the block in the form, from 0, when there were empty ones before it. */
  readonly at?: number | undefined
  readonly limbId: string
  readonly sticks: number
  readonly kind: LotKind
  readonly diameter: DiameterBand
  readonly budStage: number
  readonly packaging: Packaging
  readonly storeId: string
  readonly note?: string | undefined
}

/** Fills what was left "as the lot above", and leaves the empty blocks out. */
function toLots(blocks: readonly (LotFields | undefined)[], context: z.RefinementCtx): readonly LotToCut[] {
  const lots: LotToCut[] = []
  for (const [at, block] of blocks.entries()) {
    if (!block) continue
    const above = lots.at(-1)
    const kind = block.kind ?? above?.kind
    const diameter = block.diameter ?? above?.diameter
    const budStage = block.budStage ?? above?.budStage
    const packaging = block.packaging ?? above?.packaging
    const storeId = block.storeId ?? above?.storeId
    const filled = { kind, diameter, budStage, packaging, storeId }
    for (const field of inherited) {
      if (filled[field] === undefined) {
        context.addIssue({ code: 'custom', message: missing[field], path: [at, field] })
      }
    }
    if (!kind || !diameter || budStage === undefined || !packaging || !storeId) return z.NEVER
    lots.push({
      at,
      limbId: block.limbId,
      sticks: block.sticks,
      note: block.note,
      kind,
      diameter,
      budStage,
      packaging,
      storeId,
    })
  }
  if (lots.length === 0) {
    context.addIssue({ code: 'custom', message: 'Enter at least one lot: a limb, and how many sticks' })
  }
  return lots
}

export const LogCuttingSessionInput = z.object({
  key: onceKey,
  cutterId: uuidField('Say who cut the wood'),
  cutOn: civilDateField('Say on which day it was cut'),
  tool: optionalText(80),
  toolCare: oneOf(ToolCare, 'Say whether the shears were wiped between trees'),
  weather: optionalText(80),
  note: optionalText(1000),
  lots: z
    .preprocess(toLotList, z.array(lotFields.optional()).max(40, { error: 'At most 40 lots at once' }))
    .transform(toLots),
})
export type LogCuttingSessionInput = z.output<typeof LogCuttingSessionInput>

export const MoveLotInput = z.object({
  key: onceKey,
  lotId: uuidField('Choose the lot'),
  storeId: uuidField('Choose where it went'),
  onDay: civilDateField('Say on which day it was moved'),
})
export type MoveLotInput = z.output<typeof MoveLotInput>

export const RecordLossInput = z.object({
  key: onceKey,
  lotId: uuidField('Choose the lot'),
  sticks: wholeNumber({ min: 1, max: 2000, message: 'Say how many sticks' }),
  fate: oneOf({ destroyed: 'destroyed', lost: 'lost' } as const, 'Say whether they were destroyed or lost'),
  reason: trimmedText(300, 'Say what happened to them'),
})
export type RecordLossInput = z.output<typeof RecordLossInput>

export const CorrectMoveInput = z.object({
  key: onceKey,
  moveId: uuidField('Choose the entry to correct'),
  reason: trimmedText(300, 'Say what was wrong with it'),
  sticks: optionalWholeNumber({ min: 1, max: 2000, message: 'Enter the right number, or leave it empty' }),
})
export type CorrectMoveInput = z.output<typeof CorrectMoveInput>

export const SplitLotInput = z.object({
  key: onceKey,
  lotId: uuidField('Choose the lot'),
  storeId: uuidField('Choose the store that a part of it goes into'),
  sticks: wholeNumber({ min: 1, max: 2000, message: 'Say how many sticks go there' }),
  reason: optionalText(300),
})
export type SplitLotInput = z.output<typeof SplitLotInput>
