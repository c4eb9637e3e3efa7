import { describe, expect, test } from 'vitest'
import { fieldErrorsOf } from '#app/_actions/field-errors.ts'
import { formTree } from '#app/_actions/form-tree.ts'
import { OfferLotsInput, RecordWalkUpInput } from '#lib/swaps/input.ts'

const lotId = '01a21269-936b-70ec-88f5-d68dacae0753'
const swapId = '01a2126a-31c7-706f-b714-e4603a666acd'

/** What a browser sends of three rows of which the second is ticked. */
function posted(changes: Record<string, string> = {}): FormData {
  const form = new FormData()
  const fields: Record<string, string> = {
    group: 'marrow-lane',
    swap: swapId,
    swapId,
    key: lotId,
    overrideReason: '',
    'offers.1.lotId': lotId,
    ...changes,
  }
  for (const row of [0, 1, 2]) {
    fields[`offers.${row}.sticksPerShare`] ??= '2'
    fields[`offers.${row}.shares`] ??= '5'
    fields[`offers.${row}.note`] ??= ''
  }
  for (const [name, value] of Object.entries(fields)) form.append(name, value)
  return form
}

describe('the form that offers lots', () => {
  test('sends the ticked rows alone', () => {
    const input = OfferLotsInput.parse(formTree(posted()))
    expect(input.offers).toEqual([{ lotId, sticksPerShare: 2, shares: 5, note: undefined }])
  })

  test('takes no notice of numbers in rows without a tick', () => {
    const input = OfferLotsInput.parse(formTree(posted({ 'offers.0.shares': '', 'offers.2.shares': 'many' })))
    expect(input.offers).toHaveLength(1)
  })

  test('has its errors at the fields of their row', () => {
    const parsed = OfferLotsInput.safeParse(formTree(posted({ 'offers.1.shares': '0' })))
    expect(parsed.success || fieldErrorsOf(parsed.error)).toEqual({
      'offers.1.shares': ['Say how many shares: at least 1'],
    })
  })

  test('asks for a tick where there is none', () => {
    const form = posted()
    form.delete('offers.1.lotId')
    const parsed = OfferLotsInput.safeParse(formTree(form))
    expect(parsed.success || fieldErrorsOf(parsed.error)).toEqual({ offers: ['Tick at least one lot'] })
  })
})

describe('the form of sticks taken without a claim', () => {
  test('asks for the lot and a number', () => {
    const parsed = RecordWalkUpInput.safeParse({ key: lotId, offeringId: '', sticks: '2' })
    expect(parsed.success || fieldErrorsOf(parsed.error)).toEqual({
      offeringId: ['Choose the lot they came from'],
    })
  })
})
