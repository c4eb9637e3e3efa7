import { describe, expect, it } from 'vitest'
import { type DrawFault, describeDrawFault, diceFaults, listFaults } from '#lib/allotment/draw-faults.ts'
import type { DrawList } from '#lib/allotment/draw-list.ts'
import { runDraw } from '#lib/allotment/run-draw.ts'

const list: DrawList = {
  rules: { capPerMember: 2, capPerVariety: 1, ticketsPerDonor: 2 },
  offerings: [{ lotCode: '4TK-7WA', variety: 'bramley', shares: 2, sticksPerShare: 1 }],
  entrants: [{ memberCode: 'K7Q-2AB', wishes: ['4TK-7WA'] }],
}

const offeringWith = (changed: Partial<DrawList['offerings'][number]>): DrawList => ({
  ...list,
  offerings: list.offerings.map((offering) => ({ ...offering, ...changed })),
})

const entrantWith = (changed: Partial<DrawList['entrants'][number]>): DrawList => ({
  ...list,
  entrants: list.entrants.map((entrant) => ({ ...entrant, ...changed })),
})

const rulesWith = (changed: Partial<DrawList['rules']>): DrawList => ({
  ...list,
  rules: { ...list.rules, ...changed },
})

const kinds = (faults: readonly DrawFault[]) => faults.map(({ kind }) => kind)

describe('dice', () => {
  it.each(['4 2 6 1', '  4\t2 ', 'Lottery of 5 March: 3, 17, 22', '50%', '$2 (two)'])('may be %s', (dice) => {
    expect(diceFaults(dice)).toEqual([])
  })

  it.each([
    ['', 'dice-empty'],
    [' \n ', 'dice-empty'],
    ['4|2', 'dice-character'],
    ["4'2", 'dice-character'],
    ['4\\2', 'dice-character'],
    ['４２', 'dice-character'],
    ['4'.repeat(201), 'dice-too-long'],
  ])('may not be %j', (dice, kind) => {
    expect(kinds(diceFaults(dice))).toEqual([kind])
    expect(() => runDraw({ ...list, dice })).toThrow(RangeError)
  })
})

describe('a list', () => {
  it('with nothing wrong has no faults', () => {
    expect(listFaults(list)).toEqual([])
  })

  it.each<[string, DrawList, string]>([
    ['a limit of no shares', rulesWith({ capPerMember: 0 }), 'bad-number'],
    ['half a share per variety', rulesWith({ capPerVariety: 0.5 }), 'bad-number'],
    ['donors without a ticket', rulesWith({ ticketsPerDonor: 0 }), 'bad-number'],
    ['a lot without shares', offeringWith({ shares: 0 }), 'bad-number'],
    ['a lot with endless shares', offeringWith({ shares: Number.POSITIVE_INFINITY }), 'bad-number'],
    ['shares without sticks', offeringWith({ sticksPerShare: 0 }), 'bad-number'],
    ['fewer than no shares for newcomers', offeringWith({ newcomerShares: -1 }), 'bad-number'],
    [
      'more kept back than there is',
      offeringWith({ newcomerShares: 2, donorShares: 1 }),
      'reserves-too-large',
    ],
    ['a lot named twice', { ...list, offerings: [...list.offerings, ...list.offerings] }, 'lot-twice'],
    ['somebody twice', { ...list, entrants: [...list.entrants, ...list.entrants] }, 'member-twice'],
    ['one rank for two: the same lot twice', entrantWith({ wishes: ['4TK-7WA', '4TK-7WA'] }), 'wish-twice'],
    ['a wish for what is not there', entrantWith({ wishes: ['9XM-3CD'] }), 'wish-unknown'],
    ['a code that a terminal would trip over', entrantWith({ memberCode: "K7Q'2AB" }), 'bad-code'],
    ['a variety with a space', offeringWith({ variety: 'cox orange' }), 'bad-code'],
    ['less than nothing held', entrantWith({ held: [{ variety: 'bramley', shares: -1 }] }), 'bad-number'],
  ])('with %s is refused, in words', (_, faulty, kind) => {
    const faults = listFaults(faulty)
    expect(kinds(faults)).toEqual([kind])
    for (const fault of faults) expect(describeDrawFault(fault)).toMatch(/^.+\. ?.*\.$/)
    expect(() => runDraw({ ...faulty, dice: '4 2' })).toThrow(RangeError)
  })

  it('names every fault, not only the first', () => {
    const faulty = { ...rulesWith({ capPerMember: 0 }), entrants: [...list.entrants, ...list.entrants] }
    expect(kinds(listFaults(faulty))).toEqual(['bad-number', 'member-twice'])
  })
})
