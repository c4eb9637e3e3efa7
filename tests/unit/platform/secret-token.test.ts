import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { makeToken, readToken, tokenHashOf } from '#lib/platform/secret-token.ts'

const secret = 'the secret of this installation, long enough'
const ids = [randomUUID(), randomUUID()]

describe('a signed token', () => {
  test('is read back by the installation that made it, for the purpose it was made for', () => {
    const token = makeToken(secret, 'stop-reminders', ids)
    expect(readToken(secret, 'stop-reminders', token)).toEqual(ids)
    expect(makeToken(secret, 'stop-reminders', ids)).toBe(token)
  })

  test('opens nothing for another purpose or another installation', () => {
    const token = makeToken(secret, 'answer', ids)
    expect(readToken(secret, 'calendar', token)).toBeNull()
    expect(readToken(`${secret}!`, 'answer', token)).toBeNull()
  })

  test('is refused after any change to it', () => {
    const token = makeToken(secret, 'answer', ids)
    for (let at = 0; at < token.length; at++) {
      const other = token[at] === 'A' ? 'B' : 'A'
      expect(readToken(secret, 'answer', token.slice(0, at) + other + token.slice(at + 1))).toBeNull()
    }
    for (const text of ['', 'x', token.slice(1), `${token}A`, `${token}=`, 'a'.repeat(500), '../../etc']) {
      expect(readToken(secret, 'answer', text)).toBeNull()
    }
  })

  test('is made of ids only', () => {
    expect(() => makeToken(secret, 'answer', ['somebody'])).toThrow(RangeError)
  })

  test('is kept as a hash that does not tell it', () => {
    const token = makeToken(secret, 'calendar', ids)
    expect(tokenHashOf(token)).toMatch(/^[0-9a-f]{64}$/)
    expect(tokenHashOf(token)).not.toBe(tokenHashOf(makeToken(secret, 'calendar', [ids[0] ?? ''])))
  })
})
