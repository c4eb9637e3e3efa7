import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  gradeAfterFruit,
  type Lineage,
  type LineageLimb,
  type NameGrade,
  nameGrades,
  spreadNotTrue,
} from '#lib/grafting/identity-spread.ts'

const limb = (
  limbId: string,
  from: readonly [limbId: string, lotId: string] | null,
  grade: NameGrade = 'donor_word',
): LineageLimb => ({
  limbId,
  keeperId: `keeper of ${limbId}`,
  grade,
  fromLimbId: from?.[0] ?? null,
  fromLotId: from?.[1] ?? null,
})

/**
 * A row of gardens: the mother tree gave lots 1 and 2. Lot 1 made the limbs `ann` and `ben`; lot 2 made `cat`. Ben's
 * limb gave lot 3, of which `dan` was made. Eva had wood of lot 1 and nothing came of it.
 */
const gardens = (mother: NameGrade, changed: Partial<Record<'cat' | 'ben', NameGrade>> = {}): Lineage => ({
  limbs: [
    limb('mother', null, mother),
    limb('ann', ['mother', 'lot 1']),
    limb('ben', ['mother', 'lot 1'], changed.ben),
    limb('cat', ['mother', 'lot 2'], changed.cat),
    limb('dan', ['ben', 'lot 3']),
    limb('stranger', null, 'nursery_tag'),
  ],
  holders: [
    { lotId: 'lot 1', limbId: 'mother', memberId: 'eva' },
    { lotId: 'lot 2', limbId: 'mother', memberId: 'fay' },
    { lotId: 'lot 3', limbId: 'ben', memberId: 'gus' },
    { lotId: 'lot 9', limbId: 'stranger', memberId: 'hal' },
  ],
})

const grades = (spread: ReturnType<typeof spreadNotTrue>) =>
  Object.fromEntries(spread.limbs.map(({ limbId, becomes }) => [limbId, becomes]))

describe('a first fruit that is not true', () => {
  it('takes the name from the donor limb and from everybody who got its wood, three generations down', () => {
    const spread = spreadNotTrue('ann', gardens('nursery_tag'))
    expect(grades(spread)).toEqual({
      ann: 'unknown',
      mother: 'unknown',
      ben: 'unknown',
      cat: 'unknown',
      dan: 'unknown',
    })
    expect(spread.limbs.map(({ limbId, role, distance }) => [limbId, role, distance])).toEqual([
      ['ann', 'fruited', 0],
      ['mother', 'donor', 1],
      ['ben', 'descendant', 2],
      ['cat', 'descendant', 2],
      ['dan', 'descendant', 3],
    ])
    expect(spread.lotIds.toSorted()).toEqual(['lot 1', 'lot 2', 'lot 3'])
    expect(spread.memberIds).not.toContain('hal')
    expect(spread.memberIds).toEqual(expect.arrayContaining(['eva', 'fay', 'gus', 'keeper of dan']))
  })

  it('travels up through every donor without evidence', () => {
    expect(grades(spreadNotTrue('dan', gardens('nursery_tag')))).toEqual({
      dan: 'unknown',
      ben: 'unknown',
      mother: 'unknown',
      ann: 'unknown',
      cat: 'unknown',
    })
  })

  it('leaves a donor that fruited true its name, and doubts only the lot they shared', () => {
    const spread = spreadNotTrue('ann', gardens('fruited_true'))
    expect(grades(spread)).toEqual({ ann: 'unknown', mother: 'fruited_true', ben: 'unknown', dan: 'unknown' })
    expect(spread.limbs.find(({ limbId }) => limbId === 'mother')).toMatchObject({ stands: true })
    expect(spread.lotIds.toSorted()).toEqual(['lot 1', 'lot 3'])
    expect(spread.memberIds.toSorted()).toEqual(
      ['eva', 'gus', 'keeper of ann', 'keeper of ben', 'keeper of dan', 'keeper of mother'].toSorted(),
    )
  })

  it('goes no further through a limb that has borne true fruit itself', () => {
    const spread = spreadNotTrue('ann', gardens('nursery_tag', { ben: 'fruited_true' }))
    expect(grades(spread)).toEqual({ ann: 'unknown', mother: 'unknown', ben: 'fruited_true', cat: 'unknown' })
    expect(spread.memberIds).not.toContain('gus')
  })

  it('of a tree planted as bought goes down only', () => {
    expect(grades(spreadNotTrue('stranger', gardens('nursery_tag')))).toEqual({ stranger: 'unknown' })
    expect(spreadNotTrue('stranger', gardens('nursery_tag')).memberIds).toEqual(['keeper of stranger', 'hal'])
  })

  it('ends even where a record goes in a circle', () => {
    const circle = { limbs: [limb('a', ['b', 'x']), limb('b', ['a', 'y'])], holders: [] }
    expect(Object.keys(grades(spreadNotTrue('a', circle)))).toEqual(['a', 'b'])
  })

  it('throws for a limb outside the lineage', () => {
    expect(() => spreadNotTrue('nobody', gardens('unknown'))).toThrow('nobody')
  })

  it('tells everybody once and never gives a better grade', () => {
    const lineages = fc
      .array(
        fc.record({
          grade: fc.constantFrom(...nameGrades),
          from: fc.nat(),
          lot: fc.nat(2),
          keeper: fc.nat(3),
        }),
        {
          minLength: 1,
          maxLength: 30,
        },
      )
      .map((rows) => ({
        limbs: rows.map(({ grade, from, lot, keeper }, i) => {
          const parent = i === 0 || from % 4 === 0 ? null : from % i
          return {
            limbId: `${i}`,
            keeperId: `${keeper}`,
            grade,
            fromLimbId: parent === null ? null : `${parent}`,
            fromLotId: parent === null ? null : `${parent}/${lot}`,
          }
        }),
        holders: rows.map(({ lot }, i) => ({ lotId: `${i}/${lot}`, limbId: `${i}`, memberId: `m${i % 5}` })),
      }))
    fc.assert(
      fc.property(lineages, fc.nat(), (lineage, pick) => {
        const { limbs, memberIds, lotIds } = spreadNotTrue(`${pick % lineage.limbs.length}`, lineage)
        expect(new Set(memberIds).size).toBe(memberIds.length)
        expect(new Set(lotIds).size).toBe(lotIds.length)
        expect(new Set(limbs.map(({ limbId }) => limbId)).size).toBe(limbs.length)
        for (const { was, becomes, keeperId } of limbs) {
          expect(nameGrades.indexOf(becomes)).toBeGreaterThanOrEqual(nameGrades.indexOf(was))
          expect(memberIds).toContain(keeperId)
        }
      }),
    )
  })
})

describe('the grade of the limb that fruited', () => {
  it('rises with true fruit, unless something surer is known', () => {
    expect(nameGrades.map((was) => gradeAfterFruit('true', was))).toEqual([
      'dna',
      'expert',
      'fruited_true',
      'fruited_true',
      'fruited_true',
      'fruited_true',
    ])
  })

  it('stays when the grower is unsure, and is gone when the fruit is not true', () => {
    expect(gradeAfterFruit('unsure', 'nursery_tag')).toBe('nursery_tag')
    expect(gradeAfterFruit('not-true', 'dna')).toBe('unknown')
  })
})
