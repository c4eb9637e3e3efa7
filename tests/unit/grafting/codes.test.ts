import { describe, expect, it } from 'vitest'
import {
  type Code,
  codeAlphabet,
  describeCodeRefusal,
  formatCode,
  issueCode,
  parseCode,
  spokenCode,
} from '#lib/grafting/codes.ts'
import { seededRandom } from '#lib/kernel/seeded-random.ts'

const random = seededRandom(31)
const newCode = () => issueCode((limit) => random.integer(0, limit - 1))

const codeOf = (text: string): Code => {
  const parsed = parseCode(text)
  if (!parsed.ok) throw new Error(describeCodeRefusal(parsed.refusal))
  return parsed.value
}

describe('a new code', () => {
  it('is six of 31 characters that nobody mixes up, and reads back as itself', () => {
    expect(new Set(codeAlphabet).size).toBe(31)
    expect([...'0O1IL'].filter((character) => codeAlphabet.includes(character))).toEqual([])
    for (let i = 0; i < 500; i++) {
      const code = newCode()
      expect(code).toMatch(/^[2-9A-HJKMNP-Z]{6}$/)
      expect(codeOf(code)).toBe(code)
      expect(codeOf(formatCode(code))).toBe(code)
    }
  })

  it('comes from the numbers passed in', () => {
    const numbers = [2, 24, 17, 5, 27]
    expect(issueCode(() => numbers.shift() ?? 0)).toBe('4TK7WA')
  })

  it('cannot come from a source that leaves its limit', () => {
    expect(() => issueCode(() => 31)).toThrow('random number within its limit')
  })
})

describe('a code as typed', () => {
  it('is read in any case, with spaces, hyphens of every kind, or none', () => {
    const typed = [
      '4TK-7WA',
      '4tk7wa',
      ' 4tk 7wa ',
      '4-T-K-7-W-A',
      '4TK–7WA',
      '4TK‑7WA',
      '4TK−7WA',
      '4TK.7WA',
      '４ＴＫ－７ＷＡ',
      '4TK\u00a07WA',
    ]
    for (const text of typed) expect(parseCode(text), text).toEqual({ ok: true, value: '4TK7WA' })
  })

  it('is one of those on the sample labels', () => {
    const samples = ['B7S-F4V', 'Q8D-2N8', 'R4C-V86', 'M8N-Y2K', 'Z3U-N5E', 'S3H-P7P', 'J2M-N9V', 'W6N-K5P']
    for (const text of samples) expect(formatCode(codeOf(text))).toBe(text)
  })

  it('is refused when it is too short or too long, with its length', () => {
    expect(parseCode('4TK-7W')).toEqual({ ok: false, refusal: { kind: 'wrong-length', length: 5 } })
    expect(parseCode('4TK-7WA4')).toEqual({ ok: false, refusal: { kind: 'wrong-length', length: 7 } })
    expect(parseCode('')).toEqual({ ok: false, refusal: { kind: 'wrong-length', length: 0 } })
  })

  it('is refused when it has characters that codes never have, and names each once', () => {
    expect(parseCode('0TK-70I')).toEqual({
      ok: false,
      refusal: { kind: 'bad-character', characters: ['0', 'I'] },
    })
    expect(parseCode('ſtraße')).toMatchObject({ refusal: { kind: 'bad-character', characters: ['ß'] } })
  })

  it('is refused when the check does not fit', () => {
    expect(parseCode('4TK-7WB')).toEqual({ ok: false, refusal: { kind: 'check-does-not-fit' } })
  })

  it('is refused in words that say what to do', () => {
    expect(describeCodeRefusal({ kind: 'check-does-not-fit' })).toContain(
      'one character is wrong or two are swapped',
    )
    expect(describeCodeRefusal({ kind: 'bad-character', characters: ['0', 'I'] })).toContain('0 I is never')
    expect(describeCodeRefusal({ kind: 'wrong-length', length: 5 })).toContain('this has 5')
  })
})

describe('a slip in a code', () => {
  const values = [...codeAlphabet]

  /**
   * The check is a weighted sum modulo a prime, so whether a slip shows depends on the changed places only, and not
   * on the other characters. Trying all values in those places with the rest fixed is therefore exhaustive.
   */
  const withAt = (code: string, changes: Readonly<Record<number, string>>) =>
    [...code].map((character, i) => changes[i] ?? character).join('')

  const withCheck = (five: string) => {
    const numbers = [...five].map((character) => codeAlphabet.indexOf(character))
    return issueCode(() => numbers.shift() ?? 0)
  }

  it('shows when any one character of any code is wrong', () => {
    let slips = 0
    for (let place = 0; place < 5; place++) {
      for (const value of values) {
        const code = withCheck(withAt('4TK7W', { [place]: value }))
        for (const at of [place, 5]) {
          for (const wrong of values) {
            if (wrong === code[at]) continue
            slips += 1
            expect(parseCode(withAt(code, { [at]: wrong })).ok).toBe(false)
          }
        }
      }
    }
    expect(slips).toBe(5 * 31 * 2 * 30)
  })

  it('shows when any two different neighbours of any code have changed places', () => {
    let slips = 0
    for (let place = 0; place < 4; place++) {
      for (const left of values) {
        for (const right of values) {
          if (left === right) continue
          slips += 1
          const code = withCheck(withAt('4TK7W', { [place]: left, [place + 1]: right }))
          expect(parseCode(withAt(code, { [place]: right, [place + 1]: left })).ok).toBe(false)
        }
      }
    }
    expect(slips).toBe(4 * 31 * 30)
  })

  it('shows when the last two have changed places, for every fifth character and every check', () => {
    let slips = 0
    for (const first of values) {
      for (const fifth of values) {
        const code = withCheck(`${first}TK7${fifth}`)
        const check = code.charAt(5)
        if (check === fifth) continue
        slips += 1
        expect(parseCode(`${code.slice(0, 4)}${check}${fifth}`).ok).toBe(false)
      }
    }
    expect(slips).toBe(31 * 30)
  })
})

describe('a code said aloud', () => {
  it('is spelled in two groups of three', () => {
    expect(spokenCode(codeOf('4TK-7WA'))).toBe('four Tango Kilo, seven Whiskey Alfa')
    expect(spokenCode(codeOf('J2M-N9V'))).toBe('Juliett two Mike, November nine Victor')
  })

  it('has a different word for every character', () => {
    const words = [...codeAlphabet].map((character) => spokenCode(character.repeat(6) as Code).split(' ')[0])
    expect(new Set(words).size).toBe(31)
  })
})
