import { z } from 'zod'
import { civilDateField, onceKey, optionalText, wholeNumber, trimmedText } from '#lib/kernel/form-values.ts'
export const KitInput = z.object({
  key: onceKey,
  on: civilDateField('Say which day you cut'),
  who: trimmedText(40, 'Say who cut it'),
  wet: trimmedText(10, 'Say whether the wood was dry'),
  wiped: z.union([z.string(), z.array(z.string())]).optional(),
  note: optionalText(200),
  lots: z.array(z.object({ tree: trimmedText(40, 'Enter the tree'), sticks: wholeNumber({ min: 1, max: 99, message: 'Enter how many sticks you cut from this tree' }) })),
})
