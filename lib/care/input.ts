import { z } from 'zod'
import { onceKey, optionalCivilDate, optionalText, uuidField } from '#lib/kernel/form-values.ts'

/** What somebody says to a task of care. */
export const AnswerCareInput = z
  .object({
    key: onceKey,
    attemptId: uuidField('Choose the entry again'),
    task: z.string({ error: 'Choose the task again' }).min(1).max(60),
    answer: z.enum(['done', 'deferred', 'not_needed'], { error: 'Say done, later, or not needed' }),
    reason: optionalText(400),
    until: optionalCivilDate('Say until which day'),
  })
  .check(({ value, issues }) => {
    if (value.answer !== 'deferred') return
    if (value.until === undefined) {
      issues.push({ code: 'custom', path: ['until'], message: 'Say until which day', input: '' })
    }
    if (value.reason === undefined) {
      issues.push({ code: 'custom', path: ['reason'], message: 'Say why it is put off', input: '' })
    }
  })
export type AnswerCareInput = z.output<typeof AnswerCareInput>
