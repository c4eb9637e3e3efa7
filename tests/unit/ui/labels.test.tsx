import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import type { BagLabelData } from '#app/_ui/labels/bag-label.tsx'
import { BagSheets } from '#app/_ui/labels/bag-sheets.tsx'
import { FlagSheets } from '#app/_ui/labels/flag-sheets.tsx'
import { LotQr } from '#app/_ui/labels/qr.tsx'
import { flagsFor } from '#app/_ui/labels/stick-flag.tsx'
import { qrModules } from '#lib/formats/labels/qr-modules.ts'
import {
  a4Bags,
  a4Flags,
  intoSheets,
  type LabelStock,
  letterBags,
  letterFlags,
  perSheet,
} from '#lib/formats/labels/stock.ts'
import { codeAlphabet, issueCode } from '#lib/grafting/codes.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { readQr } from './read-qr.ts'

const bag: BagLabelData = {
  code: '4TK7WA',
  variety: "Ashmead's Kernel",
  crop: 'apple',
  from: 'tree 12',
  cut: civilDate('2027-01-11'),
  sticks: 18,
  basis: 'Fruited true, 2 seen. May be shared on.',
  health: 'Seen in leaf Aug 2026, no symptoms; not virus-tested.',
  keep: 'Keep near 1 °C, sealed. Good to mid Mar, likely to early Jun.',
}

const count = (html: string, what: string) => html.split(what).length - 1

describe('the QR code of a lot', () => {
  test('is of version 1: 21 by 21 modules, with its three finders', () => {
    const modules = qrModules('4TK-7WA')
    expect(modules).toHaveLength(21)
    expect(modules.every((row) => row.length === 21)).toBe(true)
    const rings = [0, 1, 2, 3, 4, 5, 6].map((i) => modules[0]?.[i])
    expect(rings).toEqual([true, true, true, true, true, true, true])
    expect(modules[20]?.[0]).toBe(true)
    expect(modules[0]?.[20]).toBe(true)
    expect(modules[20]?.[20]).toBeDefined()
  })

  test('reads back as the bare code at level Q, for any code we give', () => {
    fc.assert(
      fc.property(
        fc.array(fc.nat({ max: codeAlphabet.length - 1 }), { minLength: 5, maxLength: 5 }),
        (picks) => {
          let next = 0
          const code = issueCode(() => picks[next++] ?? 0)
          expect(readQr(qrModules(code))).toEqual({ level: 'Q', text: code })
        },
      ),
      { numRuns: 200, examples: [[[0, 0, 0, 0, 0]]] },
    )
  })

  test('keeps four quiet modules around it and is named for those who hear it', () => {
    const html = renderToStaticMarkup(<LotQr code="4TK7WA" />)
    expect(html).toContain('viewBox="-4 -4 29 29"')
    expect(html).toContain('aria-label="QR code for 4TK-7WA"')
  })
})

describe('a sheet of labels', () => {
  test('starts at the position asked for and goes on to the next sheet', () => {
    const sheets = intoSheets(['a', 'b', 'c'], { ...a4Bags, columns: 2, rows: 2 }, 3)
    expect(sheets).toEqual([[null, null, 'a', 'b'], ['c']])
  })

  test('takes a position that is not on it for the first', () => {
    for (const start of [0, -1, 9, 2.5, Number.NaN]) expect(intoSheets(['a'], a4Bags, start)).toEqual([['a']])
  })

  test('holds 8 bags or 65 flags on A4', () => {
    expect([perSheet(a4Bags), perSheet(a4Flags)]).toEqual([8, 65])
  })

  test('loses no label and fills every sheet but the last', () => {
    fc.assert(
      fc.property(
        fc.array(fc.nat(), { maxLength: 200 }),
        fc.integer({ min: 1, max: 65 }),
        (labels, start) => {
          const sheets = intoSheets(labels, a4Flags, start)
          expect(sheets.flat().filter((label) => label !== null)).toEqual(labels)
          expect(sheets.slice(0, -1).every((sheet) => sheet.length === 65)).toBe(true)
        },
      ),
    )
  })

  // ISO 216: A4 is 210 × 297 mm. Letter is 8.5 × 11 in.
  test.each([
    ['A4 bags', a4Bags, 210, 297],
    ['A4 flags', a4Flags, 210, 297],
    ['Letter bags', letterBags, 215.9, 279.4],
    ['Letter flags', letterFlags, 215.9, 279.4],
  ] satisfies [string, LabelStock, number, number][])(
    '%s fit their paper, with the same room at both sides',
    (...row) => {
      const [, stock, width, height] = row
      const across = stock.columns * stock.widthMm + (stock.columns - 1) * stock.gapXMm
      const down = stock.rows * stock.heightMm + (stock.rows - 1) * stock.gapYMm
      expect(stock.leftMm + across).toBeLessThanOrEqual(width)
      expect(stock.topMm + down).toBeLessThanOrEqual(height)
      expect(Math.abs(width - across - 2 * stock.leftMm)).toBeLessThan(0.2)
    },
  )
})

describe('the label of a bag', () => {
  const html = renderToStaticMarkup(<BagSheets labels={[bag]} start={3} />)

  test('carries code, name, crop, tree and the exact day of the cut', () => {
    expect(html).toContain('<p class="b-code">4TK-7WA</p>')
    expect(html).toContain('‘Ashmead’s Kernel’')
    expect(html).toContain('<b>apple</b>')
    expect(html).toContain('<b>11 Jan 2027</b>')
  })

  test('has a stick to strike for each stick of the lot, and two places left empty before it', () => {
    expect(count(html, 'v-5.35l1.5-1.15v6.5z')).toBe(18)
    expect(count(html, 'class="place"')).toBe(3)
    expect(count(html, 'class="bag"')).toBe(1)
  })

  test('of a held lot says HOLD and why, and nothing about keeping or sharing', () => {
    const held = renderToStaticMarkup(
      <BagSheets
        labels={[
          {
            ...bag,
            variety: null,
            hold: { on: civilDate('2027-02-02'), by: 'Nell Fairweather', reason: 'label lost.' },
          },
        ]}
      />,
    )
    expect(held).toContain('<p class="b-hold">HOLD</p>')
    expect(held).toContain('No name')
    expect(held).toContain('Held 2 Feb 2027 by Nell Fairweather: label lost.')
    expect(held).not.toContain(bag.keep)
    expect(held).not.toContain('May be shared on')
    expect(held).not.toContain('Strike one')
  })
})

test('there is a flag for each stick, and a held one says so instead of its date', () => {
  const flags = flagsFor({ code: '4TK7WA', variety: "Ashmead's Kernel", cut: bag.cut }, 18)
  const html = renderToStaticMarkup(
    <FlagSheets labels={[...flags, { code: 'Z3UN5E', variety: null, cut: bag.cut, hold: true }]} />,
  )
  expect(count(html, 'class="flag-l"')).toBe(19)
  expect(count(html, 'cut 11 Jan 27')).toBe(18)
  expect(count(html, 'class="f-hold"')).toBe(1)
})
