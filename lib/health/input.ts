import { z } from 'zod'
import { onceKey, optionalUuid, trimmedText, uuidField } from '#lib/kernel/form-values.ts'

const pickOne = 'Choose the lot or the limb that the hold is for'

/** A hold is on one thing: a lot, or a limb with all the lots cut from it. */
export const PlaceHoldInput = z
  .object({
    key: onceKey,
    lotId: optionalUuid(pickOne),
    limbId: optionalUuid(pickOne),
    reason: trimmedText(500, 'Say what was seen, and where'),
  })
  .refine(({ lotId, limbId }) => (lotId === undefined) !== (limbId === undefined), {
    error: pickOne,
    path: ['limbId'],
  })
export type PlaceHoldInput = z.output<typeof PlaceHoldInput>

export const ReleaseHoldInput = z.object({
  holdId: uuidField('Choose the hold'),
  reason: trimmedText(500, 'Say why the wood may move again'),
})
export type ReleaseHoldInput = z.output<typeof ReleaseHoldInput>
