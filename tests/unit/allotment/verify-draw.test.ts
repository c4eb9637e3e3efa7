import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { afterAll, describe, expect, it } from 'vitest'
import {
  type PublishedDraw,
  publishDraw,
  publishedDrawText,
  readPublishedDraw,
} from '#lib/allotment/published-draw.ts'
import { ticketsCsv } from '#lib/allotment/tickets-csv.ts'
import { verifyDraw } from '#lib/allotment/verify-draw.ts'
import { verifyDrawCommand } from '../../../scripts/verify-draw.ts'
import { draws } from './lists.ts'

const folder = mkdtempSync(join(tmpdir(), 'verify-draw-'))
afterAll(() => rmSync(folder, { recursive: true }))

const published = publishDraw({
  dice: ' 4 2  6 1 ',
  rules: { capPerMember: 1, capPerVariety: 1, ticketsPerDonor: 2 },
  offerings: [
    { lotCode: '4TK-7WA', variety: 'bramley', shares: 1, sticksPerShare: 2 },
    { lotCode: '9XM-3CD', variety: 'egremont', shares: 2, sticksPerShare: 1 },
  ],
  entrants: [
    { memberCode: 'ANN', wishes: ['4TK-7WA', '9XM-3CD'] },
    { memberCode: 'BEN', wishes: ['9XM-3CD', '4TK-7WA'], isDonor: true },
    { memberCode: 'CAT', wishes: ['4TK-7WA', '9XM-3CD'] },
    { memberCode: 'DAN', wishes: ['9XM-3CD', '4TK-7WA'] },
  ],
})

function fileOf(name: string, text: string): string {
  const path = join(folder, name)
  writeFileSync(path, text)
  return path
}

const swapped: PublishedDraw = {
  ...published,
  allotments: published.allotments.map((row) =>
    row.memberCode === 'DAN' ? { ...row, memberCode: 'CAT', ticket: 'CAT/1' } : row,
  ),
}

describe('a published draw', () => {
  it('holds, whatever was drawn, after its way through a file', () => {
    const sizes = { lots: 4, people: 5, mostShares: 3, capPerMember: fc.integer({ min: 1, max: 3 }) }
    fc.assert(
      fc.property(draws(sizes), (input) => {
        const read = readPublishedDraw(publishedDrawText(publishDraw(input)))
        expect(read.ok && verifyDraw(read.value)).toMatchObject({ kind: 'ran', allHolds: true })
      }),
      { numRuns: 50 },
    )
  })

  it('keeps the dice as they are hashed', () => {
    expect(published.dice).toBe('4 2 6 1')
  })

  it('with a share given to somebody else does not hold, and names who was passed over', () => {
    const check = verifyDraw(swapped)
    expect(check).toMatchObject({
      fingerprintHolds: true,
      ticketsHold: true,
      resultHolds: false,
      allHolds: false,
    })
    expect(check.kind === 'ran' && check.differences).toEqual([
      { part: 'allotments', lotCode: '4TK-7WA', ticket: 'CAT/1', is: 'only-published' },
      { part: 'allotments', lotCode: '4TK-7WA', ticket: 'DAN/1', is: 'missing' },
    ])
  })

  it('with a wish changed after the fingerprint went round does not hold', () => {
    const entrants = published.list.entrants.map((entrant) => ({
      ...entrant,
      wishes: entrant.wishes.toReversed(),
    }))
    const { dice, list } = published
    const later = publishDraw({ dice, ...list, entrants })
    expect(verifyDraw(later)).toMatchObject({ allHolds: true })
    expect(verifyDraw(later, published.fingerprint)).toMatchObject({
      fingerprintHolds: false,
      allHolds: false,
    })
    expect(verifyDraw(published, ` ${published.fingerprint.toUpperCase()}\n`)).toMatchObject({
      allHolds: true,
    })
  })

  it('with a number changed does not hold', () => {
    const tickets = published.tickets.map((ticket, i) =>
      i === 0 ? { ...ticket, number: '0'.repeat(64) } : ticket,
    )
    expect(verifyDraw({ ...published, tickets })).toMatchObject({ ticketsHold: false, resultHolds: true })
  })

  it('that cannot be run says why', () => {
    expect(verifyDraw({ ...published, dice: '' })).toEqual({
      kind: 'cannot-run',
      faults: [{ kind: 'dice-empty' }],
    })
  })

  it.each([
    ['no JSON', 'dice: 4', { kind: 'not-json' }],
    ['something else', '{"form":"a letter"}', { kind: 'not-a-draw', where: 'form' }],
  ])('is told from %s', (_, text, refusal) => {
    expect(readPublishedDraw(text)).toMatchObject({ ok: false, refusal })
  })
})

describe('npm run verify-draw', () => {
  it('says that everything holds', async () => {
    const path = fileOf('draw.json', publishedDrawText(published))
    expect(await verifyDrawCommand([path, published.fingerprint])).toEqual({
      holds: true,
      lines: [
        `The fingerprint holds: ${published.fingerprint}`,
        'The tickets hold: every number and place is right.',
        'The result holds: the same people get the same shares.',
        'Nobody was passed over.',
      ],
    })
  })

  it('says what does not hold', async () => {
    const { holds, lines } = await verifyDrawCommand([fileOf('swapped.json', publishedDrawText(swapped))])
    expect(holds).toBe(false)
    expect(lines).toContain('The result does not hold.')
    expect(lines).toContain('  The share of DAN/1 for 4TK-7WA comes out of the draw, but is not published.')
    expect(lines.some((line) => line.startsWith('Passed over: DAN for 4TK-7WA'))).toBe(true)
  })

  it('checks the numbers and places of a table of tickets, and says what a table cannot show', async () => {
    const csv = ticketsCsv(published.dice, published)
    const { holds, lines } = await verifyDrawCommand([fileOf('tickets.csv', csv)])
    expect([holds, lines[0]]).toEqual([true, 'The tickets hold: 10 numbers and places are right.'])
    expect(lines[1]).toMatch(/holds no wishes/)
    const altered = csv.replace(
      ',ANN/1,ANN,yes,4 2 6 1|4TK-7WA|ANN/1,7',
      ',ANN/1,ANN,yes,4 2 6 1|4TK-7WA|ANN/1,0',
    )
    expect(altered).not.toBe(csv)
    const answer = await verifyDrawCommand([fileOf('altered.csv', altered)])
    expect(answer.holds).toBe(false)
    expect(answer.lines).toContain('  Ticket 3: the number is not that of dice, lot and ticket.')
  })

  it.each([
    ['no file', [], /Name one file/],
    ['a file that is not there', ['nowhere.json'], /cannot be read \(ENOENT\)/],
    ['too many words', ['a', 'b', 'c'], /Name one file/],
  ])('refuses %s', async (_, args, words) => {
    const { holds, lines } = await verifyDrawCommand(args)
    expect(holds).toBe(false)
    expect(lines[0]).toMatch(words)
  })

  it('refuses a table of something else', async () => {
    expect(await verifyDrawCommand([fileOf('other.csv', 'a,b\r\n1,2\r\n')])).toMatchObject({ holds: false })
    expect(await verifyDrawCommand([fileOf('torn.csv', 'a,"b\r\n1,2\r\n')])).toMatchObject({ holds: false })
  })
})

describe('the table of tickets', () => {
  it('has a line for each ticket, with what came of it', () => {
    const [names, first, second, ...rest] = ticketsCsv('4 2 6 1', published).split('\r\n')
    expect(names).toBe('lot,place,ticket,member,counts,hashed,number,result')
    expect(first).toMatch(
      /^4TK-7WA,1,DAN\/1,DAN,yes,4 2 6 1\|4TK-7WA\|DAN\/1,2c4d71d2[0-9a-f]{56},open share$/,
    )
    expect(second).toMatch(/,waiting 1$/)
    expect(rest[2]).toMatch(/^4TK-7WA,5,BEN\/1,BEN,no,.*,another ticket was better$/)
    expect(rest).toHaveLength(9)
  })

  it('quotes dice that hold a comma, and keeps a spreadsheet from reckoning with them', async () => {
    const { list } = published
    const csv = ticketsCsv('-3, 17', publishDraw({ ...list, dice: '-3, 17' }))
    expect(csv).toContain(`"'-3, 17|4TK-7WA|ANN/1"`)
    expect(await verifyDrawCommand([fileOf('comma.csv', csv)])).toMatchObject({ holds: true })
  })
})
