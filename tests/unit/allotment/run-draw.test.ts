import { describe, expect, it } from 'vitest'
import { listFingerprint, runDraw } from '#lib/allotment/run-draw.ts'

const bramley = '4TK-7WA'
const russet = '9XM-3CD'

/**
 * A draw worked out by hand. The numbers come from a terminal, as anybody can get them:
 * `printf '%s' '4 2 6 1|4TK-7WA|DAN/1' | sha256sum` and so on, here to eight digits, lowest first:
 *
 *     4TK-7WA  DAN/1 2c4d71d2   CAT/1 4c72230e   ANN/1 7322ca45   BEN/2 cd3fced6   BEN/1 ddf412ca
 *     9XM-3CD  BEN/2 2b37617c   BEN/1 52c86b9a   ANN/1 5c7719f9   CAT/1 7929a266   DAN/1 e46c8785
 *
 * Ben gave wood and has two tickets; his better one counts. One share of the Bramley, two of the russet, and
 * nobody may have more than one. Ann and Cat want the Bramley most, Ben and Dan the russet.
 *
 * 1. Ann and Cat ask for the Bramley: Cat has the lower number, Ann is refused. Ben and Dan get the two russets.
 * 2. Ann asks for the russet: her 5c77 is below Dan's e46c, so Dan is refused.
 * 3. Dan asks for the Bramley: his 2c4d is below Cat's 4c72, so Cat is refused.
 * 4. Cat asks for the russet: Ben's 2b37 and Ann's 5c77 are below her 7929. She is refused and has no wish left.
 *
 * Dan has the Bramley, Ben and Ann the russets, and Cat is first to be asked for either.
 */
const example = {
  dice: '4 2 6 1',
  rules: { capPerMember: 1, capPerVariety: 1, ticketsPerDonor: 2 },
  offerings: [
    { lotCode: bramley, variety: 'bramley', shares: 1, sticksPerShare: 2 },
    { lotCode: russet, variety: 'egremont', shares: 2, sticksPerShare: 1 },
  ],
  entrants: [
    { memberCode: 'ANN', wishes: [bramley, russet] },
    { memberCode: 'BEN', wishes: [russet, bramley], isDonor: true },
    { memberCode: 'CAT', wishes: [bramley, russet] },
    { memberCode: 'DAN', wishes: [russet, bramley] },
  ],
}

describe('a draw worked out by hand', () => {
  const { tickets, allotments, waiting } = runDraw(example)

  it('puts the tickets of each lot in the order of their numbers', () => {
    expect(
      tickets.map(
        ({ lotCode, place, ticket, number }) => `${lotCode} ${place} ${ticket} ${number.slice(0, 8)}`,
      ),
    ).toEqual([
      '4TK-7WA 1 DAN/1 2c4d71d2',
      '4TK-7WA 2 CAT/1 4c72230e',
      '4TK-7WA 3 ANN/1 7322ca45',
      '4TK-7WA 4 BEN/2 cd3fced6',
      '4TK-7WA 5 BEN/1 ddf412ca',
      '9XM-3CD 1 BEN/2 2b37617c',
      '9XM-3CD 2 BEN/1 52c86b9a',
      '9XM-3CD 3 ANN/1 5c7719f9',
      '9XM-3CD 4 CAT/1 7929a266',
      '9XM-3CD 5 DAN/1 e46c8785',
    ])
  })

  it('counts the best ticket of each person alone', () => {
    expect(tickets.filter(({ counts }) => !counts).map(({ lotCode, ticket }) => [lotCode, ticket])).toEqual([
      [bramley, 'BEN/1'],
      [russet, 'BEN/1'],
    ])
  })

  it('gives the shares as by hand, with their sticks', () => {
    expect(
      allotments.map(({ lotCode, memberCode, ticket, rank, sticks, kind }) => [
        lotCode,
        memberCode,
        ticket,
        rank,
        sticks,
        kind,
      ]),
    ).toEqual([
      [bramley, 'DAN', 'DAN/1', 2, 2, 'open'],
      [russet, 'BEN', 'BEN/2', 1, 1, 'open'],
      [russet, 'ANN', 'ANN/1', 2, 1, 'open'],
    ])
  })

  it('keeps everybody else in the waiting order, and says whose limit is full', () => {
    expect(
      waiting.map(({ lotCode, place, memberCode, isCapFull }) => [lotCode, place, memberCode, isCapFull]),
    ).toEqual([
      [bramley, 1, 'CAT', false],
      [bramley, 2, 'ANN', true],
      [bramley, 3, 'BEN', true],
      [russet, 1, 'CAT', false],
      [russet, 2, 'DAN', true],
    ])
  })

  it('has the fingerprint of its list without the dice', () => {
    const { dice: _, ...list } = example
    expect(listFingerprint(example)).toBe(listFingerprint(list))
  })
})

const got = (input: Parameters<typeof runDraw>[0]) =>
  runDraw(input).allotments.map(({ lotCode, memberCode, kind }) => [lotCode, memberCode, kind])

describe('shares kept back', () => {
  const withKept = (kept: { newcomerShares?: number; donorShares?: number }, newcomer: string) => ({
    ...example,
    offerings: [{ lotCode: russet, variety: 'egremont', shares: 2, sticksPerShare: 1, ...kept }],
    entrants: ['ANN', 'BEN', 'CAT', 'DAN'].map((memberCode) => ({
      memberCode,
      wishes: [russet],
      isDonor: memberCode === 'BEN',
      isNewcomer: memberCode === newcomer,
    })),
  })

  it('go to a newcomer past people with lower numbers', () => {
    expect(got(withKept({ newcomerShares: 1 }, 'DAN'))).toEqual([
      [russet, 'BEN', 'open'],
      [russet, 'DAN', 'newcomer'],
    ])
  })

  it('are not used up by a newcomer who wins an open share', () => {
    const all = withKept({ newcomerShares: 1 }, 'DAN')
    const entrants = all.entrants.map((entrant) => ({ ...entrant, isNewcomer: entrant.memberCode !== 'ANN' }))
    expect(got({ ...all, entrants })).toEqual([
      [russet, 'BEN', 'open'],
      [russet, 'CAT', 'newcomer'],
    ])
  })

  it('go to the next of all when nobody is there whom they were kept for', () => {
    expect(got(withKept({ newcomerShares: 2 }, 'nobody'))).toEqual([
      [russet, 'BEN', 'open'],
      [russet, 'ANN', 'open'],
    ])
  })

  it('go to donors by number', () => {
    const all = withKept({ donorShares: 1 }, 'nobody')
    const entrants = all.entrants.map((entrant) => ({ ...entrant, isDonor: entrant.memberCode >= 'CAT' }))
    expect(got({ ...all, rules: { ...all.rules, ticketsPerDonor: 1 }, entrants })).toEqual([
      [russet, 'BEN', 'open'],
      [russet, 'CAT', 'donor'],
    ])
  })
})

describe('limits', () => {
  it('count what somebody holds already, in all and of a variety', () => {
    const held = (variety: string) => ({
      ...example,
      rules: { capPerMember: 2, capPerVariety: 1, ticketsPerDonor: 1 },
      entrants: [{ memberCode: 'ANN', wishes: [bramley, russet], held: [{ variety, shares: 1 }] }],
    })
    expect(got(held('medlar'))).toEqual([[bramley, 'ANN', 'open']])
    expect(got(held('bramley'))).toEqual([[russet, 'ANN', 'open']])
  })

  it('of a variety hold over several lots of it', () => {
    const twoLots = example.offerings.map((offering) => ({ ...offering, variety: 'bramley' }))
    const rules = { capPerMember: 5, capPerVariety: 1, ticketsPerDonor: 1 }
    expect(got({ ...example, rules, offerings: twoLots, entrants: example.entrants.slice(0, 1) })).toEqual([
      [bramley, 'ANN', 'open'],
    ])
  })

  it('let an empty list be drawn', () => {
    expect(runDraw({ ...example, entrants: [] })).toEqual({ tickets: [], allotments: [], waiting: [] })
  })
})
