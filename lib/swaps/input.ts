import { z } from 'zod'
import {
  civilDateField,
  onceKey,
  optionalCivilDate,
  optionalText,
  optionalUuid,
  optionalWholeNumber,
  ticked,
  trimmedText,
  uuidField,
  wholeNumber,
} from '#lib/kernel/form-values.ts'

const clockTime = z.preprocess(
  (value) => (typeof value === 'string' ? value.trim() : value),
  z
    .string({ error: 'Say at what time, such as 18:00' })
    .regex(/^([01]\d|2[0-3]):[0-5]\d$/, { error: 'Say at what time, such as 18:00' }),
)

const swapFields = {
  name: trimmedText(120, 'Give the swap a name'),
  heldOn: civilDateField('Say on which day the swap is held'),
  place: trimmedText(200, 'Say where the swap is held'),
  claimsOpenOn: civilDateField('Say on which day claims open'),
  claimsOpenTime: clockTime,
  claimsCloseOn: civilDateField('Say on which day claims close'),
  claimsCloseTime: clockTime,
  capPerMember: wholeNumber({
    min: 1,
    max: 1000,
    message: 'Say how many shares one member may hold: at least 1',
  }),
  capPerVariety: wholeNumber({
    min: 1,
    max: 1000,
    message: 'Say how many shares of one variety a member may hold: at least 1',
  }),
  /** Left out: a day. */
  waitingHours: optionalWholeNumber({
    min: 1,
    max: 336,
    message: 'Say how many hours somebody from the waiting list has to answer: 1 to 336',
  }),
  noShowOn: optionalCivilDate('Enter a day, or leave it empty'),
  noShowTime: z.preprocess(
    (value) => (value === '' || value === null ? undefined : value),
    clockTime.optional(),
  ),
  note: optionalText(2000),
}

interface ClaimTimes {
  readonly claimsOpenOn: string
  readonly claimsOpenTime: string
  readonly claimsCloseOn: string
  readonly claimsCloseTime: string
  readonly heldOn: string
  readonly noShowOn?: string | undefined
  readonly noShowTime?: string | undefined
}

// Civil dates and times of the same form compare as text, whatever the zone.
function refineTimes(swap: ClaimTimes, context: z.RefinementCtx): void {
  if (`${swap.claimsOpenOn} ${swap.claimsOpenTime}` >= `${swap.claimsCloseOn} ${swap.claimsCloseTime}`) {
    context.addIssue({
      code: 'custom',
      path: ['claimsCloseOn'],
      message: 'Claims must close after they open',
    })
  }
  if (swap.claimsCloseOn > swap.heldOn) {
    context.addIssue({
      code: 'custom',
      path: ['claimsCloseOn'],
      message: 'Claims must close by the day of the swap',
    })
  }
  if ((swap.noShowOn === undefined) !== (swap.noShowTime === undefined)) {
    context.addIssue({
      code: 'custom',
      path: [swap.noShowOn === undefined ? 'noShowOn' : 'noShowTime'],
      message: 'Say both the day and the time, or leave both empty',
    })
  } else if (
    swap.noShowOn !== undefined &&
    `${swap.noShowOn} ${swap.noShowTime}` < `${swap.claimsCloseOn} ${swap.claimsCloseTime}`
  ) {
    context.addIssue({
      code: 'custom',
      path: ['noShowOn'],
      message: 'Sticks wait for their people at least until claims close',
    })
  }
}

/** A new swap. Times are those of a clock on the wall where the group is. */
export const CreateSwapInput = z.object({ key: onceKey, ...swapFields }).superRefine(refineTimes)
export type CreateSwapInput = z.output<typeof CreateSwapInput>

const swapId = uuidField('Choose a swap')

export const EditSwapInput = z.object({ swapId, ...swapFields }).superRefine(refineTimes)
export type EditSwapInput = z.output<typeof EditSwapInput>

export const OpenSwapInput = z.object({ swapId })
export type OpenSwapInput = z.output<typeof OpenSwapInput>

export const FinishSwapInput = z.object({
  swapId,
  /** Whether sticks that nobody fetched go back to their store. */
  giveBackRest: ticked,
})
export type FinishSwapInput = z.output<typeof FinishSwapInput>

const shareSize = { min: 1, max: 100, message: 'Say how many sticks make a share: at least 1' }
const shareCount = { min: 1, max: 5000, message: 'Say how many shares: at least 1' }

// A row of the form whose box is not ticked sends no lot; its other fields are then no concern of ours.
const onlyIfTicked = (row: unknown) =>
  typeof row === 'object' && row !== null && 'lotId' in row && row.lotId !== '' ? row : {}

const offerRow = z.preprocess(
  onlyIfTicked,
  z
    .object({
      lotId: optionalUuid('Choose a lot'),
      sticksPerShare: optionalWholeNumber(shareSize),
      shares: optionalWholeNumber(shareCount),
      note: optionalText(120),
    })
    .superRefine((row, context) => {
      if (row.lotId === undefined) return
      for (const [field, range] of [
        ['sticksPerShare', shareSize],
        ['shares', shareCount],
      ] as const) {
        if (row[field] === undefined)
          context.addIssue({ code: 'custom', path: [field], message: range.message })
      }
    }),
)

export interface Offer {
  readonly lotId: string
  readonly sticksPerShare: number
  readonly shares: number
  /** Where it stands on the day, such as "Table A, bag 3". */
  readonly note?: string | undefined
}

/** Lots put into a swap. */
export const OfferLotsInput = z.object({
  key: onceKey,
  swapId,
  offers: z
    .array(offerRow, { error: 'Tick at least one lot' })
    .transform((rows): Offer[] =>
      rows.flatMap(({ lotId, sticksPerShare, shares, note }) =>
        lotId === undefined || sticksPerShare === undefined || shares === undefined
          ? []
          : [{ lotId, sticksPerShare, shares, note }],
      ),
    )
    .refine((offers) => offers.length > 0, { error: 'Tick at least one lot' })
    .refine((offers) => new Set(offers.map((offer) => offer.lotId)).size === offers.length, {
      error: 'The same lot is here twice',
    }),
  overrideReason: optionalText(500),
})
export type OfferLotsInput = z.output<typeof OfferLotsInput>

export const WithdrawOfferingInput = z.object({ offeringId: uuidField('Choose a lot of the swap') })
export type WithdrawOfferingInput = z.output<typeof WithdrawOfferingInput>

export const ChangeOfferingInput = z.object({
  offeringId: uuidField('Choose a lot of the swap'),
  shares: wholeNumber(shareCount),
  note: optionalText(120),
})
export type ChangeOfferingInput = z.output<typeof ChangeOfferingInput>

/** A claim: for oneself, or for `memberId` by somebody who may act for others. */
export const ClaimOfferingInput = z.object({
  key: onceKey,
  offeringId: uuidField('Choose a lot of the swap'),
  memberId: optionalUuid('Choose for whom'),
  shares: wholeNumber({ min: 1, max: 1000, message: 'Say how many shares: at least 1' }),
  purpose: optionalText(200),
})
export type ClaimOfferingInput = z.output<typeof ClaimOfferingInput>

const claimId = uuidField('Choose a claim')

export const GiveBackClaimInput = z.object({ key: onceKey, claimId, reason: optionalText(300) })
export type GiveBackClaimInput = z.output<typeof GiveBackClaimInput>

export const ChangeClaimInput = z.object({
  key: onceKey,
  claimId,
  shares: wholeNumber({ min: 1, max: 1000, message: 'Say how many shares: at least 1' }),
})
export type ChangeClaimInput = z.output<typeof ChangeClaimInput>

export const AnswerOfferInput = z.object({
  key: onceKey,
  waitingId: uuidField('Choose a place in the waiting list'),
})
export type AnswerOfferInput = z.output<typeof AnswerOfferInput>

export const ReleaseNoShowsInput = z.object({ key: onceKey, swapId })
export type ReleaseNoShowsInput = z.output<typeof ReleaseNoShowsInput>

export const HandOverInput = z.object({
  key: onceKey,
  claimId,
  sticks: wholeNumber({ min: 1, max: 100_000, message: 'Say how many sticks: at least 1' }),
})
export type HandOverInput = z.output<typeof HandOverInput>

export const UndoHandOverInput = z.object({
  key: onceKey,
  claimId,
  reason: trimmedText(300, 'Say why this is taken back'),
})
export type UndoHandOverInput = z.output<typeof UndoHandOverInput>

/** Sticks taken by somebody who had claimed none: named by the lot, or by its place in the swap. */
export const RecordWalkUpInput = z
  .object({
    key: onceKey,
    offeringId: optionalUuid('Choose a lot of the swap'),
    lotId: optionalUuid('Choose a lot'),
    sticks: wholeNumber({ min: 1, max: 100_000, message: 'Say how many sticks: at least 1' }),
  })
  .superRefine((input, context) => {
    if (input.offeringId === undefined && input.lotId === undefined) {
      context.addIssue({ code: 'custom', path: ['offeringId'], message: 'Choose the lot they came from' })
    }
  })
export type RecordWalkUpInput = z.output<typeof RecordWalkUpInput>

export const UndoWalkUpInput = z.object({
  key: onceKey,
  moveId: uuidField('Choose what was taken'),
  reason: trimmedText(300, 'Say why this is taken back'),
})
export type UndoWalkUpInput = z.output<typeof UndoWalkUpInput>
