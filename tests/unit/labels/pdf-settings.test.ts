import { expect, test } from 'vitest'
import { labelWish, pdfSettings } from '#app/g/[group]/labels/_parts/pdf-settings.ts'
import { a4Bags } from '#lib/formats/labels/stock.ts'

const of = (text: string) => pdfSettings(new URLSearchParams(text))

test('an empty form prints on the usual sheet, from its first place', () => {
  expect(of('sheet=a4-8&start=1&top=&left=&across=&down=')).toEqual({
    takes: 'bags',
    stock: a4Bags,
    start: 1,
    outlines: false,
  })
})

test('margins and the way from label to label are taken in millimetres, with a comma too', () => {
  const { stock } = of('sheet=a4-8&top=12,6&left=5.15&across=102&down=68')
  expect(stock).toMatchObject({ topMm: 12.6, leftMm: 5.15 })
  expect(stock.gapXMm).toBeCloseTo(2.9, 6)
  expect(stock.gapYMm).toBeCloseTo(0.3, 6)
})

test('what makes no sense becomes what is usual', () => {
  for (const text of [
    'sheet=none',
    'start=9',
    'start=0',
    'start=x',
    'top=-1',
    'left=abc',
    'across=20',
    'down=1e9',
  ])
    expect(of(text)).toMatchObject({ stock: a4Bags, start: 1 })
  expect(of('sheet=a4-65&start=65')).toMatchObject({ takes: 'flags', start: 65 })
})

test('labels are for a lot, a session or a swap, or for nothing', () => {
  expect(labelWish(new URLSearchParams('lot=4TK-7WA'))).toEqual({ lot: '4TK-7WA' })
  expect(labelWish(new URLSearchParams('session=a'))).toEqual({ session: 'a' })
  expect(labelWish(new URLSearchParams('swap=b'))).toEqual({ swap: 'b' })
  expect(labelWish(new URLSearchParams('lot='))).toBeNull()
})
