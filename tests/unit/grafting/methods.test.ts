import { describe, expect, it } from 'vitest'
import { failureCauses } from '#lib/grafting/failure-causes.ts'
import { findMethod, type Method, methods } from '#lib/grafting/methods.ts'

const all: readonly Method[] = methods

describe('the methods', () => {
  it('are twelve grafts and buds, four kinds of cutting and two layers, each with its own key', () => {
    const ofKind = (kind: string) => all.filter((method) => method.kind === kind).length
    expect([ofKind('graft'), ofKind('cutting'), ofKind('layer')]).toEqual([12, 4, 2])
    expect(new Set(all.map(({ key }) => key)).size).toBe(18)
    for (const { key } of all) expect(key).toMatch(/^[a-z]+(-[a-z]+)*$/)
  })

  it('call success "took" for grafts and "rooted" for the rest', () => {
    for (const { key, kind, successWord } of all) {
      expect(successWord, key).toBe(kind === 'graft' ? 'took' : 'rooted')
    }
  })

  it('need slipping bark under bark, flaps and patches, and not for chip budding', () => {
    expect(all.filter(({ needs }) => needs.slippingBark).map(({ key }) => key)).toEqual([
      'bark',
      'bridge',
      't-bud',
      'patch-bud',
      'four-flap',
    ])
  })

  it('wait two weeks or longer before the first look, twice as long for approach grafts', () => {
    for (const { key, firstLook } of all) expect(firstLook.afterDays, key).toBeGreaterThanOrEqual(14)
    expect(findMethod('approach')?.firstLook.afterDays).toBe(56)
  })

  it('say what they are and when they are done', () => {
    for (const { key, meaning, season } of all) {
      expect(meaning, key).toMatch(/^[A-Z].+\.$/)
      expect(season.months.length, key).toBeGreaterThan(1)
      for (const month of season.months) expect(month).toSatisfy((m: number) => m >= 1 && m <= 12)
    }
  })

  it('say for every cutting, and only there, how many nodes and whether heat and hormone are usual', () => {
    for (const { key, kind, cutting } of all) expect(cutting !== undefined, key).toBe(kind === 'cutting')
    expect(all.find(({ key }) => key === 'hardwood-cutting')?.cutting?.leastNodes).toBe(3)
  })

  it('are found by key, or not at all', () => {
    expect(findMethod('t-bud')?.name).toBe('T-bud (shield)')
    expect(findMethod('nail-and-string')).toBeNull()
  })
})

describe('the causes of failure', () => {
  it('are twelve, each with its own key', () => {
    expect(new Set(failureCauses.map(({ key }) => key)).size).toBe(12)
    expect(failureCauses).toHaveLength(12)
  })

  it('do not count wood that was never grafted, or that lost its label, as dead', () => {
    const unknown = failureCauses.filter(({ countsAs }) => countsAs === 'unknown')
    expect(unknown.map(({ key }) => key)).toEqual(['not-attempted', 'label-lost'])
  })

  it('tell the health steward of disease alone', () => {
    expect(failureCauses.filter((cause) => cause.tellsHealthSteward).map(({ key }) => key)).toEqual([
      'disease',
    ])
  })
})
