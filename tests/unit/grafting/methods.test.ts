import { describe, expect, it } from 'vitest'
import { failureCauses } from '#lib/grafting/failure-causes.ts'
import { findMethod, type Method, methods } from '#lib/grafting/methods.ts'

const all: readonly Method[] = methods

describe('the methods', () => {
  it('are ten grafts and buds, four kinds of cutting and the air layer, each with its own key', () => {
    const ofKind = (kind: string) => all.filter((method) => method.kind === kind).length
    expect([ofKind('graft'), ofKind('cutting'), ofKind('layer')]).toEqual([10, 4, 1])
    expect(new Set(all.map(({ key }) => key)).size).toBe(15)
    for (const { key } of all) expect(key).toMatch(/^[a-z]+(-[a-z]+)*$/)
  })

  it('call success "took" for grafts and "rooted" for the rest', () => {
    for (const { key, kind, successWord } of all) {
      expect(successWord, key).toBe(kind === 'graft' ? 'took' : 'rooted')
    }
  })

  it('need slipping bark for bark, bridge and T-bud, and not for chip budding', () => {
    expect(all.filter(({ needs }) => needs.slippingBark).map(({ key }) => key)).toEqual([
      'bark',
      'bridge',
      't-bud',
    ])
  })

  it('wait two weeks or longer before the first look, twice as long for approach grafts', () => {
    for (const { key, firstLook } of all) expect(firstLook.afterDays, key).toBeGreaterThanOrEqual(14)
    expect(findMethod('approach')?.firstLook.afterDays).toBe(56)
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
