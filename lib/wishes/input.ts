import { z } from 'zod'
import { onceKey, optionalText, optionalUuid, uuidField, wholeNumber } from '#lib/kernel/form-values.ts'

const purpose = z.enum(['graft', 'root', 'rootstock', 'undecided'], { error: 'Say what it is for' })

/** A wish for a variety of the group, or in one's own words (“any early peach”), at the end of the list. */
export const AddWishInput = z
  .object({
    key: onceKey,
    swapId: uuidField('Choose a swap'),
    /** Whose wish; one's own if left out. */
    memberId: optionalUuid('Choose whose wish it is'),
    varietyId: optionalUuid('Choose a variety of the list'),
    words: optionalText(120),
    taxonKey: optionalText(60),
    purpose: purpose.default('undecided'),
    sticks: wholeNumber({ min: 1, max: 100, message: 'Say how many sticks: at least 1' }),
    /** What it is to be put on. */
    stock: optionalText(120),
  })
  .superRefine((wish, context) => {
    if ((wish.varietyId === undefined) === (wish.words === undefined)) {
      context.addIssue({
        code: 'custom',
        path: ['varietyId'],
        message: 'Choose a variety, or say in your own words what you look for: one of the two',
      })
    }
    if (wish.varietyId !== undefined && wish.taxonKey !== undefined) {
      context.addIssue({ code: 'custom', path: ['taxonKey'], message: 'The variety says the crop already' })
    }
  })
export type AddWishInput = z.output<typeof AddWishInput>

const wishId = uuidField('Choose a wish')

export const DropWishInput = z.object({ wishId })
export type DropWishInput = z.output<typeof DropWishInput>

/** One place up or down in the list of the person whose wish it is. `rank` is where the page showed it. */
export const MoveWishInput = z.object({
  wishId,
  rank: wholeNumber({ min: 1, max: 10_000, message: 'Open the page again' }),
  direction: z.enum(['up', 'down'], { error: 'Say up or down' }),
})
export type MoveWishInput = z.output<typeof MoveWishInput>

export type WishPurpose = z.output<typeof purpose>

export const wishPurposes = purpose.options
