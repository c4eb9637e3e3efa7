import { expect, test } from 'vitest'
import { issueCode } from '#lib/grafting/codes.ts'
import { scannedCode } from '#lib/swaps/scanned-code.ts'

const code = issueCode(() => 7)

test('the code is found in what a flag, a bag or a person says', () => {
  expect(scannedCode(code)).toBe(code)
  expect(scannedCode(` ${code.slice(0, 3).toLowerCase()}-${code.slice(3)} `)).toBe(code)
  expect(scannedCode(`https://orchard.example.org/g/marrow-lane/wood/${code}`)).toBe(code)
  expect(scannedCode(`http://localhost:3000/g/marrow-lane/wood/${code}/?from=bag#top`)).toBe(code)
})

test('a name, another address or a mistyped code is none', () => {
  for (const text of [
    '',
    'Mabel',
    'https://example.org/',
    'https://example.org/wood/label',
    `${code.slice(0, 5)}2`,
  ])
    expect(scannedCode(text)).toBeNull()
})
