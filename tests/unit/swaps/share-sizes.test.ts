import { describe, expect, test } from 'vitest'
import { sharesLeft, suggestShares } from '#lib/swaps/share-sizes.ts'

describe('suggested shares', () => {
  test.each([
    [1, { sticksPerShare: 1, shares: 1 }],
    [7, { sticksPerShare: 1, shares: 7 }],
    [8, { sticksPerShare: 2, shares: 4 }],
    [21, { sticksPerShare: 2, shares: 10 }],
  ])('for %i sticks', (sticks, expected) => {
    expect(suggestShares(sticks)).toEqual(expected)
  })

  test('never promise more sticks than there are', () => {
    for (let sticks = 1; sticks <= 300; sticks++) {
      const suggested = suggestShares(sticks)
      expect(suggested && suggested.shares * suggested.sticksPerShare).toBeLessThanOrEqual(sticks)
    }
  })

  test('none of nothing', () => {
    expect(suggestShares(0)).toBeNull()
  })
})

describe('shares left', () => {
  const offer = { shares: 10, sharesClaimed: 4, sharesReserved: 0, sticksPerShare: 2, sticksInStore: 12 }

  test('are what nobody has claimed', () => {
    expect(sharesLeft(offer)).toBe(6)
  })

  test('are no more than the sticks that are there make up', () => {
    expect(sharesLeft({ ...offer, sticksInStore: 5 })).toBe(2)
    expect(sharesLeft({ ...offer, sticksInStore: 1 })).toBe(0)
    expect(sharesLeft({ ...offer, sticksInStore: 40 })).toBe(6)
  })

  test('are not those kept for the waiting list', () => {
    expect(sharesLeft({ ...offer, sharesReserved: 2 })).toBe(4)
    expect(sharesLeft({ ...offer, sharesReserved: 2, sticksInStore: 6 })).toBe(1)
    expect(sharesLeft({ ...offer, sharesReserved: 6 })).toBe(0)
  })
})
