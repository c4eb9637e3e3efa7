import fc from 'fast-check'
import type { DrawEntrant, DrawList, DrawOffering } from '#lib/allotment/draw-list.ts'
import type { DrawInput } from '#lib/allotment/run-draw.ts'

const varieties = ['bramley', 'egremont', 'medlar'] as const

export interface Sizes {
  readonly lots: number
  readonly people: number
  readonly mostShares: number
  readonly capPerMember: fc.Arbitrary<number>
}

const offering = (lotCode: string, mostShares: number): fc.Arbitrary<DrawOffering> =>
  fc
    .record({
      variety: fc.constantFrom(...varieties),
      shares: fc.integer({ min: 1, max: mostShares }),
      sticksPerShare: fc.integer({ min: 1, max: 3 }),
      kept: fc.tuple(fc.nat(2), fc.nat(2)),
    })
    .map(({ variety, shares, sticksPerShare, kept: [newcomers, donors] }) => {
      const newcomerShares = Math.min(newcomers, shares)
      const donorShares = Math.min(donors, shares - newcomerShares)
      return { lotCode, variety, shares, sticksPerShare, newcomerShares, donorShares }
    })

const entrant = (memberCode: string, lotCodes: readonly string[]): fc.Arbitrary<DrawEntrant> =>
  fc.record({
    memberCode: fc.constant(memberCode),
    wishes: fc.shuffledSubarray([...lotCodes]),
    isDonor: fc.boolean(),
    isNewcomer: fc.boolean(),
    held: fc.oneof(
      { arbitrary: fc.constant([]), weight: 3 },
      { arbitrary: fc.constantFrom(...varieties).map((variety) => [{ variety, shares: 1 }]), weight: 1 },
    ),
  })

/** Lists of all shapes: reserves, donors with several tickets, shares held before, limits of both kinds. */
const lists = ({ lots, people, mostShares, capPerMember }: Sizes): fc.Arbitrary<DrawList> => {
  const lotCodes = Array.from({ length: lots }, (_, i) => `LOT-${i + 2}`)
  return fc.record({
    offerings: fc.tuple(...lotCodes.map((lotCode) => offering(lotCode, mostShares))),
    entrants: fc.tuple(...Array.from({ length: people }, (_, i) => entrant(`MEM-${i + 2}`, lotCodes))),
    rules: fc.record({
      capPerMember,
      capPerVariety: fc.integer({ min: 1, max: 3 }),
      ticketsPerDonor: fc.integer({ min: 1, max: 3 }),
    }),
  })
}

export const draws = (sizes: Sizes): fc.Arbitrary<DrawInput> =>
  fc
    .tuple(lists(sizes), fc.integer({ min: 0, max: 99_999 }))
    .map(([list, dice]) => ({ ...list, dice: `${dice}` }))
