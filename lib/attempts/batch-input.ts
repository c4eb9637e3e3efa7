import { z } from 'zod'
import {
  type AttemptInput,
  blankToNothing,
  blankToNotSaid,
  type Chosen,
  chosenField,
  craftFields,
  methodMessage,
  mostPieces,
  skillBands,
} from '#lib/attempts/input.ts'
import { findMethod } from '#lib/grafting/methods.ts'
import {
  civilDateField,
  onceKey,
  optionalText,
  optionalUuid,
  optionalWholeNumber,
} from '#lib/kernel/form-values.ts'

/** More rows than a morning has. */
const mostRows = 60

const isMethod = (key: string) => findMethod(key) !== null

const Row = z.object({
  wood: chosenField(['lot', 'limb', 'variety'], 'Choose the wood of this row'),
  pieces: optionalWholeNumber({ min: 1, max: mostPieces, message: 'Say how many, at least 1' }),
  sticksUsed: optionalWholeNumber({ min: 1, max: mostPieces, message: 'Say how many sticks, or nothing' }),
  method: z.preprocess(blankToNothing, z.string().refine(isMethod, { error: methodMessage }).optional()),
  host: craftFields.host,
  stock: optionalText(120),
  nodes: craftFields.nodes,
})

/** Several entries of one morning, by one person: what all rows share, and the rows. */
export const RecordBatchInput = z
  .object({
    key: onceKey,
    growerId: optionalUuid('Choose who made them'),
    madeOn: civilDateField('Say on which day it was done'),
    method: z.string({ error: methodMessage }).refine(isMethod, { error: methodMessage }),
    wrap: craftFields.wrap,
    bottomHeatC: craftFields.bottomHeatC,
    hormone: craftFields.hormone,
    skill: z.preprocess(blankToNotSaid, z.enum(skillBands, { error: 'Choose one of the four' })),
    note: optionalText(2000),
    rows: z.array(Row).max(mostRows, { error: `At most ${mostRows} rows at a time` }),
  })
  .check(({ value, issues }) => {
    const isFilled = value.rows.some(({ pieces }) => pieces !== undefined)
    if (!isFilled) {
      const message = 'Say how many pieces, in one row at least'
      issues.push({ code: 'custom', path: ['rows', 0, 'pieces'], message, input: '' })
    }
    const first = value.rows.findIndex(({ pieces }) => pieces !== undefined)
    for (const [i, row] of value.rows.entries()) {
      if (row.pieces !== undefined && row.wood === undefined && i === first) {
        const message = 'Choose the wood; only rows below may leave it to the row above'
        issues.push({ code: 'custom', path: ['rows', i, 'wood'], message, input: '' })
      }
      if (row.pieces === undefined && (row.wood !== undefined || row.sticksUsed !== undefined)) {
        const message = 'Say how many pieces, or leave the whole row empty'
        issues.push({ code: 'custom', path: ['rows', i, 'pieces'], message, input: '' })
      }
    }
  })
export type RecordBatchInput = z.output<typeof RecordBatchInput>

/** A row as it is recorded, and its number on the form, from 1. */
export interface BatchRow {
  readonly number: number
  readonly attempt: AttemptInput
}

type WoodOfRow = Chosen<'lot' | 'limb' | 'variety'>

const woodFields = (wood: WoodOfRow) =>
  wood.kind === 'lot'
    ? ({ source: 'lot', lotId: wood.id, fromLimbId: undefined, varietyId: undefined } as const)
    : ({
        source: 'own',
        lotId: undefined,
        fromLimbId: wood.kind === 'limb' ? wood.id : undefined,
        varietyId: wood.kind === 'variety' ? wood.id : undefined,
      } as const)

/** The filled rows; one that names no wood takes that of the row above. */
export function batchRows(input: RecordBatchInput): readonly BatchRow[] {
  const rows: BatchRow[] = []
  let wood: WoodOfRow | undefined
  for (const [i, row] of input.rows.entries()) {
    wood = row.wood ?? wood
    if (row.pieces === undefined || wood === undefined) continue
    const { growerId, madeOn, wrap, bottomHeatC, hormone, skill, note } = input
    rows.push({
      number: i + 1,
      attempt: {
        ...woodFields(wood),
        growerId,
        madeOn,
        wrap,
        bottomHeatC,
        hormone,
        skill,
        note,
        method: row.method ?? input.method,
        pieces: row.pieces,
        sticksUsed: wood.kind === 'lot' ? row.sticksUsed : undefined,
        host: row.host,
        hostTreeId: undefined,
        hostLimbId: undefined,
        stock: row.stock,
        nodes: row.nodes,
        treatment: undefined,
      },
    })
  }
  return rows
}
