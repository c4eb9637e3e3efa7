import { expect, test } from 'vitest'
import { safePath } from '#lib/access/safe-path.ts'

test.each(['/g', '/g/marrow-lane/wood?crop=apple', '/'])('goes back to %s', (path) => {
  expect(safePath(path, '/fallback')).toBe(path)
})

test.each([
  'https://elsewhere.example',
  '//elsewhere.example',
  '/\\elsewhere.example',
  'g',
  '',
  null,
  undefined,
  '/a b',
])('never follows %s', (path) => {
  expect(safePath(path, '/fallback')).toBe('/fallback')
})
