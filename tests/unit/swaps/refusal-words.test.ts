import { describe, expect, test } from 'vitest'
import { swapsRefusalWords } from '#lib/swaps/refusal-words.ts'

describe('a refused claim', () => {
  test('says how many are left and what would work', () => {
    expect(swapsRefusalWords({ kind: 'not-enough-shares', left: 3 })).toEqual({
      message: 'Only 3 of this lot are left to claim.',
      next: ['Claim 3 or fewer.', 'Look for another lot of the same variety.'],
    })
    expect(swapsRefusalWords({ kind: 'not-enough-shares', left: 1 }).next[0]).toBe('Claim 1.')
    expect(swapsRefusalWords({ kind: 'not-enough-shares', left: 0 }).message).toMatch(
      /^Every share of this lot/,
    )
  })

  test('says the limit, what is held, and what still fits', () => {
    expect(swapsRefusalWords({ kind: 'cap-per-variety', cap: 2, held: 1 })).toEqual({
      message: 'The limit is 2 shares of one variety for one member, and 1 is held already.',
      next: ['Claim 1.', 'Give something back first, then claim this.'],
    })
    expect(swapsRefusalWords({ kind: 'cap-per-member', cap: 10, held: 10 })).toEqual({
      message: 'The limit is 10 shares in this swap for one member, and 10 are held already.',
      next: ['Give something back first, then claim this.'],
    })
  })
})

describe('every refusal of a swap', () => {
  test.each([
    { kind: 'swap-finished' },
    { kind: 'swap-already-open' },
    { kind: 'claims-standing', claims: 1, sticks: 2 },
    { kind: 'fewer-than-claimed', claimed: 3 },
    { kind: 'override-not-yours' },
    { kind: 'claims-not-open', opensAt: '', closesAt: '', status: 'planned' },
    { kind: 'held', reason: 'canker', placedAt: '' },
    { kind: 'already-claimed' },
    { kind: 'already-waiting' },
    { kind: 'shares-are-free', left: 2 },
    { kind: 'no-shows-not-due', at: null },
    { kind: 'no-shows-not-due', at: '2027-02-21T15:00:00Z' },
    { kind: 'place-is-gone', status: 'expired' },
    { kind: 'place-is-gone', status: 'waiting' },
    { kind: 'place-is-gone', status: 'closed' },
    { kind: 'key-reused' },
    { kind: 'not-allowed', right: 'hand-over', roles: ['helper'] },
  ] as const)('says what happened and what to do next: $kind', (refusal) => {
    const { message, next } = swapsRefusalWords(refusal)
    expect(message).toMatch(/\.$/)
    expect(next.length).toBeGreaterThan(0)
    expect(`${message} ${next.join(' ')}`).not.toMatch(/undefined|NaN|sorry/i)
  })

  test('of lots names each and says every next step once', () => {
    const held = { kind: 'held', reason: 'canker', placedAt: '' } as const
    const { message, next } = swapsRefusalWords({
      kind: 'lots-unfit',
      lots: [
        { code: 'ABCDEF', varietyName: 'Besley', refusal: held },
        { code: 'GHJKMN', varietyName: null, refusal: held },
      ],
    })
    expect(message).toContain('ABC-DEF ‘Besley’: This wood is on hold: canker.')
    expect(message).toContain('GHJ-KMN: This wood is on hold: canker.')
    expect(new Set(next).size).toBe(next.length)
  })
})
