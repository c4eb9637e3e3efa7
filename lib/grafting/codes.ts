import { required } from '#lib/kernel/assert.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'

/** The code of a lot or a tree: six characters without the hyphen, the last a check on the others. */
export type Code = string & { readonly __code: unique symbol }

/** Why a text is not a code. */
export type CodeRefusal =
  | { readonly kind: 'wrong-length'; readonly length: number }
  | { readonly kind: 'bad-character'; readonly characters: readonly string[] }
  | { readonly kind: 'check-does-not-fit' }

/** 31 characters, a prime number of them, without 0 O 1 I L, which people mix up. */
export const codeAlphabet = '23456789ABCDEFGHJKMNPQRSTUVWXYZ'

const length = 6

/**
 * The check is the weighted sum of the five values before it, modulo 31. All weights are different and none is
 * a multiple of 31, so one wrong character, or two that changed places, always shows.
 */
const weights = [1, 2, 3, 4, 5]

function checkCharacter(firstFive: string): string {
  const sum = weights.reduce(
    (total, weight, i) => total + weight * codeAlphabet.indexOf(firstFive.charAt(i)),
    0,
  )
  return codeAlphabet.charAt(sum % codeAlphabet.length)
}

/**
 * A new code. `integerBelow(limit)` gives a whole number, 0 ≤ n < limit, each equally likely; pass a source that
 * cannot be guessed. That no code is given twice is for whoever stores it to make sure of.
 */
export function issueCode(integerBelow: (limit: number) => number): Code {
  const firstFive = weights
    .map(() => required(codeAlphabet[integerBelow(codeAlphabet.length)], 'a random number within its limit'))
    .join('')
  return `${firstFive}${checkCharacter(firstFive)}` as Code
}

/** Capital letters at their usual width; spaces, dashes, dots and underscores taken out. */
const bare = (text: string) =>
  text
    .normalize('NFKC')
    .replace(/[\s\p{Dash_Punctuation}\u2212_.]+/gu, '')
    .replace(/[a-z]/g, (letter) => letter.toUpperCase())

/** Reads a code as typed or spoken: any case, with or without the hyphen or spaces. */
export function parseCode(text: string): Result<Code, CodeRefusal> {
  const characters = [...bare(text)]
  const strangers = [...new Set(characters.filter((character) => !codeAlphabet.includes(character)))]
  if (strangers.length > 0) return refuse({ kind: 'bad-character', characters: strangers })
  if (characters.length !== length) return refuse({ kind: 'wrong-length', length: characters.length })
  const code = characters.join('')
  return code.endsWith(checkCharacter(code)) ? ok(code as Code) : refuse({ kind: 'check-does-not-fit' })
}

/** A refusal in words, for the field where the code was typed. */
export function describeCodeRefusal(refusal: CodeRefusal): string {
  switch (refusal.kind) {
    case 'wrong-length':
      return `A code has six characters; this has ${refusal.length}. It looks like ABC-DEF.`
    case 'bad-character':
      return `${refusal.characters.join(' ')} is never part of a code. Codes have no 0, O, 1, I or L.`
    case 'check-does-not-fit':
      return 'This is not a code we have given: one character is wrong or two are swapped.'
  }
}

/** As it is printed: ABC-DEF. */
export const formatCode = (code: string): string => `${code.slice(0, 3)}-${code.slice(3)}`

/** The spelling alphabet of the International Civil Aviation Organization; digits as plain words. */
const spoken: Readonly<Record<string, string>> = {
  2: 'two',
  3: 'three',
  4: 'four',
  5: 'five',
  6: 'six',
  7: 'seven',
  8: 'eight',
  9: 'nine',
  A: 'Alfa',
  B: 'Bravo',
  C: 'Charlie',
  D: 'Delta',
  E: 'Echo',
  F: 'Foxtrot',
  G: 'Golf',
  H: 'Hotel',
  J: 'Juliett',
  K: 'Kilo',
  M: 'Mike',
  N: 'November',
  P: 'Papa',
  Q: 'Quebec',
  R: 'Romeo',
  S: 'Sierra',
  T: 'Tango',
  U: 'Uniform',
  V: 'Victor',
  W: 'Whiskey',
  X: 'X-ray',
  Y: 'Yankee',
  Z: 'Zulu',
}

/** As it is read aloud: "four Tango Kilo, seven Whiskey Alfa". Also the text for a screen reader. */
export function spokenCode(code: Code): string {
  const words = [...code].map((character) => required(spoken[character], `a word for ${character}`))
  return `${words.slice(0, 3).join(' ')}, ${words.slice(3).join(' ')}`
}
