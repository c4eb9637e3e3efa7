import { z } from 'zod'
import {
  civilDateField,
  onceKey,
  optionalText,
  optionalUuid,
  optionalWholeNumber,
  uuidField,
  wholeNumber,
} from '#lib/kernel/form-values.ts'
import { InspectionDecision, MouldSeen, NickTest, ShrivelSeen } from '#lib/platform/generated/enums.ts'

const reasons = {
  hold: 'Say what was seen, so that the hold says why',
  reject: 'Say why the sticks are destroyed',
} as const

export const InspectLotInput = z
  .object({
    key: onceKey,
    lotId: uuidField('Choose the lot'),
    /** Who looked; whoever records it when left out. */
    inspectorId: optionalUuid('Choose who looked from the list'),
    onDay: civilDateField('Say on which day it was looked at'),
    condition: wholeNumber({ min: 1, max: 5, message: 'Say how the wood is on the whole' }),
    mould: z.enum(MouldSeen, { error: 'Say whether there is mould, and where' }),
    shrivel: z.enum(ShrivelSeen, { error: 'Say whether the bark is shrivelled' }),
    budStage: optionalWholeNumber({ min: 0, max: 99, message: 'Choose how the buds looked' }),
    nick: z.enum(NickTest, { error: 'Say what a nick of the bark showed, or that none was made' }),
    note: optionalText(1000),
    decision: z.enum(InspectionDecision, { error: 'Say what happens to the wood' }),
    /** Why it is held or destroyed. */
    reason: optionalText(300),
    /** How many are destroyed; all that are free when left out. */
    sticks: optionalWholeNumber({
      min: 1,
      max: 2000,
      message: 'Enter how many sticks are destroyed, or leave it empty for all',
    }),
    /** The look that this one stands in for. */
    supersedesId: optionalUuid('Choose the look to correct'),
  })
  .transform((input, context) => {
    const { decision, reason } = input
    if (decision === 'keep' || reason) return input
    context.addIssue({ code: 'custom', message: reasons[decision], path: ['reason'] })
    return z.NEVER
  })
export type InspectLotInput = z.output<typeof InspectLotInput>
