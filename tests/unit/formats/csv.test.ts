import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { importColumns } from '#lib/formats/csv/columns.ts'
import { matchHeader } from '#lib/formats/csv/match-header.ts'
import { readDay } from '#lib/formats/csv/read-day.ts'
import { readTable } from '#lib/formats/csv/read-table.ts'
import { entryKeys } from '#lib/formats/csv/row-keys.ts'
import { writeCsv } from '#lib/formats/csv/write-csv.ts'
import { isUuid } from '#lib/kernel/id.ts'

const bytes = (text: string) => new TextEncoder().encode(text)
const table = (text: string) => {
  const result = readTable(bytes(text))
  if (!result.ok) throw new Error(result.refusal.kind)
  return result.value
}

describe('reading a table', () => {
  test('takes commas, semicolons and tabs, whichever the heading has most of', () => {
    expect(table('a,b\n1,2\n').rows[0]?.cells).toEqual(['1', '2'])
    expect(table('a;b;c\n1,5;2;3\n')).toMatchObject({ separator: ';', rows: [{ cells: ['1,5', '2', '3'] }] })
    expect(table('a\tb\n1\t2\n').separator).toBe('\t')
    expect(table('"a, or; so",b\n1,2\n').separator).toBe(',')
  })

  test('numbers lines as an editor does, also after a cell of several lines and empty lines', () => {
    const { rows } = table('a,b\r\n"one\r\ntwo",2\r\n\r\n,\r\n3,4\r\n')
    expect(rows.map(({ line }) => line)).toEqual([2, 6])
  })

  test('drops a byte order mark and reads UTF-16 and Windows-1252', () => {
    expect(table('\uFEFFvariety\nBeurré\n').heading.cells).toEqual(['variety'])
    const wide = new Uint8Array([
      0xff,
      0xfe,
      ...new Uint8Array(new Uint16Array([...'a\nü\n'].map((c) => c.charCodeAt(0))).buffer),
    ])
    expect(readTable(wide)).toMatchObject({
      ok: true,
      value: { encoding: 'utf-16', rows: [{ cells: ['ü'] }] },
    })
    const old = new Uint8Array([...bytes('variety\nBeurr'), 0xe9])
    expect(readTable(old)).toMatchObject({
      ok: true,
      value: { encoding: 'windows-1252', rows: [{ cells: ['Beurré'] }] },
    })
  })

  test('refuses an empty file, and says where quotes go wrong', () => {
    expect(readTable(bytes(' \n\n'))).toEqual({ ok: false, refusal: { kind: 'empty-file' } })
    expect(readTable(bytes('a,b\n1,2\nx"y,3\n'))).toMatchObject({
      ok: false,
      refusal: { kind: 'not-a-table', line: 3 },
    })
  })

  test('reads back what it writes', () => {
    const cell = fc.string({ unit: 'binary' }).map((text) => text.trim().replace(/\r\n?/g, '\n'))
    const plain = cell.filter((text) => !/^[=+\-@\t\r]/.test(text) && !/[\0\ufeff\ud800-\udfff]/.test(text))
    fc.assert(
      fc.property(fc.array(fc.tuple(plain, plain), { minLength: 1, maxLength: 5 }), (rows) => {
        const filled = rows.filter((row) => row.some((text) => text !== ''))
        expect(table(writeCsv(['one', 'two'], rows)).rows.map(({ cells }) => cells)).toEqual(filled)
      }),
    )
  })
})

describe('the heading', () => {
  const heading = (...cells: readonly string[]) => ({ line: 1, cells })

  test('is understood in any order, case and spelling of spaces', () => {
    const found = matchHeader(
      heading('PIECES', 'Made on:', 'made_by', 'Cultivar', 'How', 'Weather'),
      importColumns.outcomes,
    )
    expect(found).toMatchObject({ ok: true, value: { unread: ['Weather'] } })
    if (!found.ok) return
    expect(found.value.columns.map(({ key, at }) => `${key} ${at}`)).toEqual([
      'pieces 0',
      'made_on 1',
      'grower 2',
      'variety 3',
      'method 4',
    ])
  })

  test('must have what is needed, once', () => {
    expect(matchHeader(heading('variety', 'pieces'), importColumns.outcomes)).toEqual({
      ok: false,
      refusal: { kind: 'columns-missing', missing: ['method', 'made on'], there: ['variety', 'pieces'] },
    })
    const twice = heading('variety', 'cultivar', 'method', 'made on', 'pieces')
    expect(matchHeader(twice, importColumns.outcomes)).toEqual({
      ok: false,
      refusal: { kind: 'column-twice', column: 'variety', headings: ['variety', 'cultivar'] },
    })
  })

  test('no two columns of an import answer to the same name', () => {
    for (const columns of Object.values(importColumns)) {
      const names = columns.flatMap(({ key, names: own }) => [...new Set([key.replace('_', ' '), ...own])])
      expect(names).toEqual([...new Set(names)])
    }
  })
})

describe('reading a day', () => {
  const day = (text: string, order: Parameters<typeof readDay>[1] = null) => {
    const found = readDay(text, order)
    return found.kind === 'day' ? found.day : found.kind
  }

  test('takes ISO days and days with the name of the month in any order', () => {
    expect(day('2026-03-14')).toBe('2026-03-14')
    expect(day('2026/3/4')).toBe('2026-03-04')
    expect(day('14 March 2026')).toBe('2026-03-14')
    expect(day('14-Mar-2026')).toBe('2026-03-14')
    expect(day('March 14, 2026')).toBe('2026-03-14')
  })

  test('takes numbers alone where only one order makes a day', () => {
    expect(day('14/03/2026')).toBe('2026-03-14')
    expect(day('03/14/2026')).toBe('2026-03-14')
    expect(day('5.5.2026')).toBe('2026-05-05')
  })

  test('asks where two orders make two days, and then keeps to the answer', () => {
    expect(readDay('03/04/2026', null)).toEqual({ kind: 'two-ways', readings: ['2026-04-03', '2026-03-04'] })
    expect(day('03/04/2026', 'dmy')).toBe('2026-04-03')
    expect(day('03/04/2026', 'mdy')).toBe('2026-03-04')
    expect(day('03/14/2026', 'dmy')).toBe('no-day')
    expect(day('14/03/2026', 'iso')).toBe('no-day')
  })

  test('refuses what is no day, years of two digits and serial numbers', () => {
    for (const text of ['31/04/2026', '2026-02-30', '14/3/26', '45000', 'spring', '14 Foo 2026']) {
      expect(day(text)).toBe('no-day')
    }
  })
})

describe('the key of an entry', () => {
  test('is the same for the same words, and counts entries that say the same', () => {
    const once = entryKeys('outcomes', [['a'], ['b'], ['a']])
    expect(once.every(isUuid)).toBe(true)
    expect(new Set(once).size).toBe(3)
    expect(entryKeys('outcomes', [['b'], ['a']])).toEqual([once[1], once[0]])
    expect(entryKeys('members', [['a']])).not.toEqual([once[0]])
  })
})
