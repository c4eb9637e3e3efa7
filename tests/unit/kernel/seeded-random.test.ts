import { describe, expect, it } from 'vitest'
import { seededRandom } from '#lib/kernel/seeded-random.ts'

describe('a seeded stream of numbers', () => {
  it('is mulberry32: these values come from a separate implementation in Python', () => {
    const first = seededRandom(1)
    expect([first.next(), first.next(), first.next()]).toEqual([
      0.6270739405881613, 0.002735721180215478, 0.5274470399599522,
    ])
    expect(seededRandom(20260221).next()).toBe(0.2953246305696666)
  })

  it('is the same for the same seed and another for another', () => {
    const stream = (seed: number) => Array.from({ length: 20 }, seededRandom(seed).next)
    expect(stream(7)).toEqual(stream(7))
    expect(stream(7)).not.toEqual(stream(8))
  })

  it('gives whole numbers between both ends, each of them', () => {
    const random = seededRandom(3)
    const seen = new Set(Array.from({ length: 300 }, () => random.integer(-2, 3)))
    expect([...seen].sort((a, b) => a - b)).toEqual([-2, -1, 0, 1, 2, 3])
  })

  it('is true about as often as the chance says', () => {
    const random = seededRandom(4)
    const hits = Array.from({ length: 10_000 }, () => random.chance(0.3)).filter(Boolean).length
    // Four standard errors of a binomial share.
    expect(Math.abs(hits / 10_000 - 0.3)).toBeLessThan(4 * Math.sqrt((0.3 * 0.7) / 10_000))
    expect(random.chance(0)).toBe(false)
    expect(random.chance(1)).toBe(true)
  })

  it('picks every item, and throws when there is none', () => {
    const random = seededRandom(5)
    const seen = new Set(Array.from({ length: 100 }, () => random.pick(['a', 'b', 'c'])))
    expect([...seen].sort()).toEqual(['a', 'b', 'c'])
    expect(() => random.pick([])).toThrow('Nothing to pick from')
  })

  it('shuffles into every order, and leaves the list as it was', () => {
    const random = seededRandom(6)
    const items = [1, 2, 3]
    const orders = new Set(Array.from({ length: 200 }, () => random.shuffle(items).join('')))
    expect([...orders].sort()).toEqual(['123', '132', '213', '231', '312', '321'])
    expect(items).toEqual([1, 2, 3])
    expect(random.shuffle([])).toEqual([])
  })
})
