import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { chosenByEntrant, keptByLot } from '#lib/allotment/choices.ts'
import type { DrawEntrant, DrawList, DrawOffering } from '#lib/allotment/draw-list.ts'
import { listFingerprint } from '#lib/allotment/list-fingerprint.ts'
import { passedOver } from '#lib/allotment/passed-over.ts'
import { type Allotment, type Draw, type DrawInput, runDraw, type Waiting } from '#lib/allotment/run-draw.ts'
import { required } from '#lib/kernel/assert.ts'
import { draws } from '#tests/unit/allotment/lists.ts'

const middling = { lots: 6, people: 9, mostShares: 4, capPerMember: fc.integer({ min: 1, max: 4 }) }
const oneEach = { lots: 4, people: 5, mostShares: 2, capPerMember: fc.constant(1) }
const tiny = { lots: 3, people: 3, mostShares: 2, capPerMember: fc.integer({ min: 1, max: 2 }) }

const entrantOf = (list: DrawList, memberCode: string) =>
  required(
    list.entrants.find((entrant) => entrant.memberCode === memberCode),
    memberCode,
  )

const varietyIn = (list: DrawList) => (lotCode: string) =>
  required(list.offerings.find((offering) => offering.lotCode === lotCode)?.variety, lotCode)

/** Broken limits and share numbers, in words; empty when all hold. */
function overruns(
  list: DrawList,
  allotments: readonly Pick<Allotment, 'lotCode' | 'memberCode'>[],
): string[] {
  const tooMany = list.offerings.filter(
    ({ lotCode, shares }) => allotments.filter((allotment) => allotment.lotCode === lotCode).length > shares,
  )
  const overLimit = list.entrants.filter((entrant) => {
    const got = allotments
      .filter(({ memberCode }) => memberCode === entrant.memberCode)
      .map(({ lotCode }) => lotCode)
    const varieties = got.map(varietyIn(list))
    const before = (variety: string | null) =>
      (entrant.held ?? [])
        .filter((held) => variety === null || held.variety === variety)
        .reduce((sum, { shares }) => sum + shares, 0)
    return (
      new Set(got).size < got.length ||
      got.some((lotCode) => !entrant.wishes.includes(lotCode)) ||
      (got.length > 0 && got.length + before(null) > list.rules.capPerMember) ||
      varieties.some(
        (variety) =>
          varieties.filter((other) => other === variety).length + before(variety) > list.rules.capPerVariety,
      )
    )
  })
  return [...tooMany.map(({ lotCode }) => lotCode), ...overLimit.map(({ memberCode }) => memberCode)]
}

describe('every draw', () => {
  it('keeps limits and shares', () => {
    fc.assert(
      fc.property(draws(middling), (input) => {
        expect(overruns(input, runDraw(input).allotments)).toEqual([])
      }),
      { numRuns: 300 },
    )
  })

  it('passes nobody over', () => {
    fc.assert(
      fc.property(draws(middling), (input) => {
        expect(passedOver(input, runDraw(input))).toEqual([])
      }),
      { numRuns: 300 },
    )
  })

  it('gives kept shares to those they were kept for, and never more than were kept', () => {
    fc.assert(
      fc.property(draws(middling), (input) => {
        const { allotments } = runDraw(input)
        for (const { kind, memberCode } of allotments) {
          if (kind === 'newcomer') expect(entrantOf(input, memberCode).isNewcomer).toBe(true)
          if (kind === 'donor') expect(entrantOf(input, memberCode).isDonor).toBe(true)
        }
        for (const { lotCode, newcomerShares = 0, donorShares = 0 } of input.offerings) {
          const ofKind = (kind: string) =>
            allotments.filter((allotment) => allotment.lotCode === lotCode && allotment.kind === kind).length
          expect(ofKind('newcomer')).toBeLessThanOrEqual(newcomerShares)
          expect(ofKind('donor')).toBeLessThanOrEqual(donorShares)
        }
      }),
      { numRuns: 200 },
    )
  })

  it('comes out the same in any order of lots, people and shares held', () => {
    const shuffled = draws(middling).chain((input) =>
      fc.record({
        input: fc.constant(input),
        offerings: fc.shuffledSubarray([...input.offerings], { minLength: input.offerings.length }),
        entrants: fc.shuffledSubarray([...input.entrants], { minLength: input.entrants.length }),
      }),
    )
    fc.assert(
      fc.property(shuffled, ({ input, offerings, entrants }) => {
        const turned = { ...input, offerings, entrants }
        expect(runDraw(turned)).toEqual(runDraw(input))
        expect(listFingerprint(turned)).toBe(listFingerprint(input))
      }),
      { numRuns: 200 },
    )
  })

  it('puts everybody who wished for a lot either among those who got it or into its waiting order, once', () => {
    fc.assert(
      fc.property(draws(middling), (input) => {
        const { allotments, waiting } = runDraw(input)
        const outcome = [...allotments, ...waiting].map(
          ({ memberCode, lotCode }) => `${memberCode} ${lotCode}`,
        )
        const wished = input.entrants.flatMap(({ memberCode, wishes }) =>
          wishes.map((lotCode) => `${memberCode} ${lotCode}`),
        )
        expect(outcome.toSorted()).toEqual(wished.toSorted())
      }),
      { numRuns: 200 },
    )
  })

  it('is, of all results that pass nobody over, the best for each person', () => {
    fc.assert(
      fc.property(draws(tiny), (input) => {
        const draw = runDraw(input)
        for (const other of resultsThatPassNobodyOver(input, draw)) {
          for (const entrant of input.entrants) {
            const mine = gotBy(draw.allotments, entrant)
            const both = new Set([...mine, ...gotBy(other, entrant)])
            const preferred = chosenByEntrant(entrant, [...both], varietyIn(input), input.rules)
            expect(preferred).toEqual(entrant.wishes.filter((lotCode) => mine.has(lotCode)))
          }
        }
      }),
      { numRuns: 150 },
    )
  })
})

const gotBy = (
  allotments: readonly Pick<Allotment, 'lotCode' | 'memberCode'>[],
  { memberCode }: DrawEntrant,
) =>
  new Set(allotments.filter((allotment) => allotment.memberCode === memberCode).map(({ lotCode }) => lotCode))

/** Every way to give shares, tried one by one, in which limits hold and nobody was passed over. */
function resultsThatPassNobodyOver(list: DrawInput, draw: Draw): (readonly Allotment[])[] {
  const all = [...draw.allotments, ...draw.waiting]
  return Array.from({ length: 2 ** all.length }, (_, bits) => all.filter((_row, i) => (bits >> i) % 2 === 1))
    .filter((rows) => overruns(list, rows).length === 0)
    .map((rows) => list.offerings.flatMap((offering) => withKinds(list, offering, rows)))
    .filter((allotments) => passedOver(list, { ...draw, allotments }).length === 0)
}

/** The holders of a lot, with the kinds of share that they would be given. */
function withKinds(
  list: DrawList,
  offering: DrawOffering,
  rows: readonly (Allotment | Waiting)[],
): readonly Allotment[] {
  const holders = rows
    .filter(({ lotCode }) => lotCode === offering.lotCode)
    .toSorted((a, b) => (a.number < b.number ? -1 : 1))
  const applicants = holders.map(({ memberCode }) => {
    const { isDonor = false, isNewcomer = false } = entrantOf(list, memberCode)
    return { memberCode, isDonor, isNewcomer }
  })
  return keptByLot(offering, applicants).flatMap(({ memberCode, kind }) =>
    holders
      .filter((holder) => holder.memberCode === memberCode)
      .map(({ lotCode, ticket, number, rank }) => ({
        lotCode,
        memberCode,
        ticket,
        number,
        rank,
        kind,
        sticks: offering.sticksPerShare,
      })),
  )
}

/** Every ranking of some of these lots, the empty one too. */
function* rankings(lotCodes: readonly string[]): Generator<readonly string[]> {
  yield []
  for (const [i, lotCode] of lotCodes.entries()) {
    for (const rest of rankings(lotCodes.toSpliced(i, 1))) yield [lotCode, ...rest]
  }
}

const withRanking = (input: DrawInput, memberCode: string, wishes: readonly string[]): DrawInput => ({
  ...input,
  entrants: input.entrants.map((entrant) =>
    entrant.memberCode === memberCode ? { ...entrant, wishes } : entrant,
  ),
})

describe('an honest ranking', () => {
  it('is never worse than any other with a limit of one share', () => {
    const lotCodes = ['LOT-2', 'LOT-3', 'LOT-4', 'LOT-5']
    fc.assert(
      fc.property(draws(oneEach), (input) => {
        const [entrant] = input.entrants
        if (!entrant) throw new Error('nobody takes part')
        const rankGot = (given: DrawInput) => {
          const [got] = gotBy(runDraw(given).allotments, entrant)
          const rank = got === undefined ? -1 : entrant.wishes.indexOf(got)
          return rank < 0 ? Number.POSITIVE_INFINITY : rank
        }
        const honest = rankGot(input)
        for (const ranking of rankings(lotCodes)) {
          expect(rankGot(withRanking(input, entrant.memberCode, ranking))).toBeGreaterThanOrEqual(honest)
        }
      }),
      { numRuns: 60 },
    )
  })

  /** So no page may promise it: with a limit of two, Ann does better here by keeping quiet about two of her wishes. */
  it('can be worse with a limit of two shares', () => {
    const wishes = {
      ANN: ['LOT-3', 'LOT-2', 'LOT-4'],
      BEN: ['LOT-2', 'LOT-4', 'LOT-3'],
      CAT: ['LOT-4', 'LOT-2', 'LOT-3'],
    }
    const input: DrawInput = {
      dice: '2',
      rules: { capPerMember: 2, capPerVariety: 2, ticketsPerDonor: 1 },
      offerings: wishes.ANN.map((lotCode) => ({ lotCode, variety: lotCode, shares: 1, sticksPerShare: 1 })),
      entrants: Object.entries(wishes).map(([memberCode, ranking]) => ({ memberCode, wishes: ranking })),
    }
    const ann = entrantOf(input, 'ANN')
    expect([...gotBy(runDraw(input).allotments, ann)]).toEqual(['LOT-2'])
    expect([...gotBy(runDraw(withRanking(input, 'ANN', ['LOT-3'])).allotments, ann)]).toEqual(['LOT-3'])
  })
})

describe('the check for people passed over', () => {
  it('finds them in most results that were tampered with by one exchange', () => {
    let found = 0
    const tampered = draws(middling).filter((input) => {
      const { allotments, waiting } = runDraw(input)
      return allotments.length > 0 && waiting.some(({ isCapFull }) => !isCapFull)
    })
    fc.assert(
      fc.property(tampered, (input) => {
        const draw = runDraw(input)
        const next = draw.waiting.find(({ isCapFull }) => !isCapFull)
        const allotments = draw.allotments.map((row) =>
          row.lotCode === next?.lotCode ? { ...row, memberCode: next.memberCode, number: next.number } : row,
        )
        if (passedOver(input, { ...draw, allotments }).length > 0) found += 1
      }),
      { numRuns: 100, seed: 1962 },
    )
    expect(found).toBeGreaterThan(75)
  })
})
