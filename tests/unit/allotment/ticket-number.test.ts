import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { DrawList } from '#lib/allotment/draw-list.ts'
import {
  canonicalList,
  listFingerprint,
  ticketCommand,
  ticketNumber,
  ticketText,
} from '#lib/allotment/list-fingerprint.ts'

const list: DrawList = {
  rules: { capPerMember: 3, capPerVariety: 1, ticketsPerDonor: 2 },
  offerings: [
    { lotCode: '9XM-3CD', variety: 'egremont', shares: 2, sticksPerShare: 1, donorShares: 1 },
    { lotCode: '4TK-7WA', variety: 'bramley', shares: 3, sticksPerShare: 2, newcomerShares: 1 },
  ],
  entrants: [
    { memberCode: 'P6R-8FG', wishes: [], isNewcomer: true },
    {
      memberCode: 'K7Q-2AB',
      wishes: ['9XM-3CD', '4TK-7WA'],
      isDonor: true,
      held: [
        { variety: 'medlar', shares: 1 },
        { variety: 'bramley', shares: 1 },
        { variety: 'medlar', shares: 1 },
        { variety: 'quince', shares: 0 },
      ],
    },
  ],
}

const written = `tallywood draw list 1
rules cap 3 per-variety 1 donor-tickets 2
lot 4TK-7WA variety bramley shares 3 sticks 2 newcomers 1 donors 0
lot 9XM-3CD variety egremont shares 2 sticks 1 newcomers 0 donors 1
entrant K7Q-2AB donor holds bramley=1 medlar=2 wishes 9XM-3CD 4TK-7WA
entrant P6R-8FG newcomer wishes
`

describe('a ticket’s number', () => {
  it('is what sha256sum prints for the command on the proof page', () => {
    const printed = execFileSync('bash', ['-c', ticketCommand('4 2 6 1', '4TK-7WA', 'K7Q-2AB/2')], {
      encoding: 'utf8',
    })
    expect(printed).toBe(`${ticketNumber('4 2 6 1', '4TK-7WA', 'K7Q-2AB/2')}  -\n`)
    expect(ticketCommand('4 2 6 1', '4TK-7WA', 'K7Q-2AB/2')).toBe(
      "printf '%s' '4 2 6 1|4TK-7WA|K7Q-2AB/2' | sha256sum",
    )
  })

  it('survives a percent sign and a dollar in a public number', () => {
    const command = ticketCommand('50% $HOME `date`', '4TK-7WA', 'K7Q-2AB/1')
    const printed = execFileSync('bash', ['-c', command], { encoding: 'utf8' })
    expect(printed.slice(0, 64)).toBe(ticketNumber('50% $HOME `date`', '4TK-7WA', 'K7Q-2AB/1'))
  })

  it('does not change with spaces around the dice or between them', () => {
    expect(ticketText('  4 2\t6  1\n', '4TK-7WA', 'A/1')).toBe('4 2 6 1|4TK-7WA|A/1')
  })

  it('changes with dice, lot and ticket', () => {
    const numbers = [
      ticketNumber('4261', '4TK-7WA', 'A/1'),
      ticketNumber('4262', '4TK-7WA', 'A/1'),
      ticketNumber('4261', '9XM-3CD', 'A/1'),
      ticketNumber('4261', '4TK-7WA', 'A/2'),
    ]
    expect(new Set(numbers).size).toBe(4)
  })
})

describe('the list as text', () => {
  it('is sorted, and says everything that decides the draw', () => {
    expect(canonicalList(list)).toBe(written)
  })

  it('is the same in any order of lots and people', () => {
    const turned = {
      ...list,
      offerings: list.offerings.toReversed(),
      entrants: list.entrants.toReversed(),
    }
    expect(listFingerprint(turned)).toBe(listFingerprint(list))
  })

  it('has the fingerprint that sha256sum gives for it in a file', () => {
    const folder = mkdtempSync(join(tmpdir(), 'draw-list-'))
    try {
      writeFileSync(join(folder, 'list.txt'), written)
      const printed = execFileSync('sha256sum', ['list.txt'], { cwd: folder, encoding: 'utf8' })
      expect(printed).toBe(`${listFingerprint(list)}  list.txt\n`)
    } finally {
      rmSync(folder, { recursive: true })
    }
  })

  it('has another fingerprint once the order of two wishes is turned', () => {
    const turned = list.entrants.map((entrant) => ({ ...entrant, wishes: entrant.wishes.toReversed() }))
    expect(listFingerprint({ ...list, entrants: turned })).not.toBe(listFingerprint(list))
  })
})
