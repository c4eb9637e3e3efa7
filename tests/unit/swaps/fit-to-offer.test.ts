import { describe, expect, test } from 'vitest'
import { refusalToOffer } from '#lib/swaps/fit-to-offer.ts'

const variety = {
  name: 'Besley',
  protection: 'none_known' as const,
  introducedYear: null,
  genus: 'Malus',
  family: 'Rosaceae',
}
const lot = { sticksInStore: 10, openHold: null, variety }
const swap = { heldInYear: 2027, allowsVitis: false, isOverridden: false }
const kindOf = (...args: Parameters<typeof refusalToOffer>) => refusalToOffer(...args)?.kind ?? 'fit'

describe('whether a lot may be offered', () => {
  test('named wood, free, of which there is enough, may', () => {
    expect(kindOf(lot, swap, 10)).toBe('fit')
    expect(kindOf(lot, swap, 11)).toBe('not-enough-sticks')
  })

  test('a hold stands before every other reason', () => {
    const openHold = { reason: 'canker', placedAt: new Date('2027-01-05T10:00:00Z') }
    expect(refusalToOffer({ ...lot, openHold, variety: null }, swap, 99)).toEqual({
      kind: 'held',
      reason: 'canker',
      placedAt: '2027-01-05T10:00:00.000Z',
    })
  })

  test('wood without a name may not', () => {
    expect(kindOf({ ...lot, variety: null }, swap, 1)).toBe('unnamed-wood')
  })

  test.each([
    ['in_force', 1900, 'protected'],
    ['pending', null, 'protected'],
    ['breeders_right', null, 'protected'],
    ['unknown', null, 'protected'],
    ['unknown', 1998, 'protected'],
    ['unknown', 1997, 'fit'],
    ['expired', 2020, 'fit'],
    ['none_known', null, 'fit'],
  ] as const)('protection %s, introduced %s: %s', (protection, introducedYear, expected) => {
    const guarded = { ...lot, variety: { ...variety, protection, introducedYear } }
    expect(kindOf(guarded, swap, 1)).toBe(expected)
    expect(kindOf(guarded, { ...swap, isOverridden: true }, 1)).toBe('fit')
  })

  test('citrus never, whatever the reason; grape where the group allows it', () => {
    const citrus = { ...lot, variety: { ...variety, genus: 'Citrus', family: 'Rutaceae' } }
    const grape = { ...lot, variety: { ...variety, genus: 'Vitis', family: 'Vitaceae' } }
    expect(kindOf(citrus, { ...swap, isOverridden: true, allowsVitis: true }, 1)).toBe('not-shared-here')
    expect(kindOf(grape, { ...swap, isOverridden: true }, 1)).toBe('not-shared-here')
    expect(kindOf(grape, { ...swap, allowsVitis: true }, 1)).toBe('fit')
  })
})
