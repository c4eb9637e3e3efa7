import { z } from 'zod'
import {
  civilDateField,
  onceKey,
  optionalText,
  optionalWholeNumber,
  uuidField,
  wholeNumber,
} from '#lib/kernel/form-values.ts'

const swapId = uuidField('Choose a swap')
const limbId = uuidField('Choose the limb')
const pledgeId = uuidField('Choose a promise')
const someSticks = { min: 1, max: 1000, message: 'Say how many sticks: at least 1' }
const bringBy = civilDateField('Say by which day the wood is wanted')
const note = optionalText(500)

/** Asks the keeper of a limb for wood, or is that keeper's promise of it unasked. */
export const AskForWoodInput = z.object({
  key: onceKey,
  swapId,
  limbId,
  sticks: wholeNumber(someSticks),
  bringBy,
  note,
})
export type AskForWoodInput = z.output<typeof AskForWoodInput>

/** The keeper's answer to a request, or a change of what was promised. */
export const AnswerPledgeInput = z
  .object({
    pledgeId,
    answer: z.enum(['promise', 'decline'], { error: 'Say whether you can bring some' }),
    sticks: optionalWholeNumber(someSticks),
    bringBy: z.preprocess((value) => (value === '' ? undefined : value), bringBy.optional()),
    note,
  })
  .superRefine((input, context) => {
    if (input.answer === 'promise' && input.sticks === undefined) {
      context.addIssue({ code: 'custom', path: ['sticks'], message: someSticks.message })
    }
  })
export type AnswerPledgeInput = z.output<typeof AnswerPledgeInput>

export const RemindKeepersInput = z.object({ key: onceKey, swapId })
export type RemindKeepersInput = z.output<typeof RemindKeepersInput>

/** What came of a promise. */
export const SettlePledgeInput = z.object({
  pledgeId,
  outcome: z.enum(['delivered', 'short', 'not_come', 'withdrawn'], { error: 'Say what came of it' }),
})
export type SettlePledgeInput = z.output<typeof SettlePledgeInput>
