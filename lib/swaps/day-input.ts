import { z } from 'zod'
import { onceKey, uuidField } from '#lib/kernel/form-values.ts'

const swapId = uuidField('Choose a swap')
const memberId = uuidField('Choose a person')

/** Somebody at the door of a swap. The same twice is the same once, so it needs no key. */
export const CheckInInput = z.object({ swapId, memberId })
export type CheckInInput = z.output<typeof CheckInInput>

export const HandOverAllInput = z.object({ key: onceKey, swapId, memberId })
export type HandOverAllInput = z.output<typeof HandOverAllInput>
