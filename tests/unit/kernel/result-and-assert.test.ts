import { describe, expect, it } from 'vitest'
import { assertNever, required } from '#lib/kernel/assert.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'

describe('a result', () => {
  const half = (n: number): Result<number, { kind: 'odd' }> =>
    n % 2 === 0 ? ok(n / 2) : refuse({ kind: 'odd' })

  it('is a value or a refusal', () => {
    expect(half(8)).toEqual({ ok: true, value: 4 })
    expect(half(7)).toEqual({ ok: false, refusal: { kind: 'odd' } })
  })
})

describe('what must be there', () => {
  it('is given back, falsy values as well', () => {
    expect([required(0, 'a number'), required('', 'a text'), required(false, 'a flag')]).toEqual([
      0,
      '',
      false,
    ])
  })

  it('is a defect with a name when it is missing', () => {
    expect(() => required(null, 'the donor tree')).toThrow('Missing: the donor tree')
    expect(() => required(undefined, 'the donor tree')).toThrow('Missing: the donor tree')
  })
})

describe('a case nobody handled', () => {
  it('is a defect that shows the case', () => {
    expect(() => assertNever({ kind: 'surprise' } as never)).toThrow('{"kind":"surprise"}')
  })
})
