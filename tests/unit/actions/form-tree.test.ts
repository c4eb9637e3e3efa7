import { expect, test } from 'vitest'
import { formTree } from '#app/_actions/form-tree.ts'

const form = (entries: [string, string][]) => {
  const data = new FormData()
  for (const [name, value] of entries) data.append(name, value)
  return data
}

test('unfolds dotted names into lists and records', () => {
  const tree = formTree(
    form([
      ['cutOn', '2026-01-10'],
      ['lots.0.sticks', '12'],
      ['lots.1.sticks', '8'],
      ['lots.1.kind', 'budwood'],
    ]),
  )
  expect(tree).toEqual({ cutOn: '2026-01-10', lots: [{ sticks: '12' }, { sticks: '8', kind: 'budwood' }] })
})

test('keeps several values of one name as a list', () => {
  expect(
    formTree(
      form([
        ['cause', 'mould'],
        ['cause', 'dried'],
      ]),
    ),
  ).toEqual({ cause: ['mould', 'dried'] })
})

test('leaves out the fields that React adds, and files', () => {
  const data = form([
    ['$ACTION_REF_1', ''],
    ['name', 'Wren'],
  ])
  data.append('photo', new Blob(['x']), 'x.txt')
  expect(formTree(data)).toEqual({ name: 'Wren', photo: '' })
})

test('is not led into the prototype or into endless lists', () => {
  expect(
    formTree(
      form([
        ['__proto__.polluted', 'yes'],
        ['lots.999999.sticks', '1'],
      ]),
    ),
  ).toEqual({})
  expect(({} as Record<string, unknown>)['polluted']).toBeUndefined()
})
