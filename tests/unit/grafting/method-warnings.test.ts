import { describe, expect, it } from 'vitest'
import { type MethodQuestion, methodWarnings } from '#lib/grafting/method-warnings.ts'
import { methods } from '#lib/grafting/methods.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'

const question: MethodQuestion = {
  method: 'whip-and-tongue',
  crop: 'apple',
  madeOn: civilDate('2026-03-14'),
  hemisphere: 'north',
  wood: 'dormant',
  barkSlips: null,
  celsius: null,
  nodes: null,
}

const kinds = (changed: Partial<MethodQuestion>) =>
  methodWarnings({ ...question, ...changed }).map(({ kind }) => kind)

describe('warnings on a method', () => {
  it('are none for an apple whip graft in March with wood at rest', () => {
    expect(kinds({})).toEqual([])
  })

  it('say that bark must slip, or ask to try it', () => {
    const may = { method: 'bark', madeOn: civilDate('2026-05-01') } as const
    expect(kinds({ ...may, barkSlips: false })).toEqual(['bark-must-slip'])
    expect(kinds(may)).toEqual(['check-that-bark-slips'])
    expect(kinds({ ...may, barkSlips: true })).toEqual([])
  })

  it('do not ask for slipping bark where it is not needed', () => {
    expect(kinds({ method: 'chip-bud', barkSlips: false })).toEqual([])
  })

  it('tell wood in leaf from wood that moves', () => {
    expect(kinds({ wood: 'in-leaf' })).toEqual(['wood-must-rest'])
    expect(kinds({ wood: 'moving' })).toEqual(['wood-is-moving'])
    expect(kinds({ wood: 'unknown' })).toEqual([])
    expect(kinds({ method: 'softwood-cutting', madeOn: civilDate('2026-06-01') })).toEqual([
      'wood-must-be-in-leaf',
    ])
  })

  it('know the season in both hemispheres', () => {
    expect(kinds({ madeOn: civilDate('2026-08-10') })).toEqual(['out-of-season'])
    expect(kinds({ madeOn: civilDate('2026-08-10'), hemisphere: 'south' })).toEqual([])
    expect(kinds({ hemisphere: 'south' })).toEqual(['out-of-season'])
  })

  it('ask to wait with crops that bleed', () => {
    expect(kinds({ crop: 'walnut' })).toEqual(['wait-for-leaf'])
    expect(kinds({ crop: 'walnut', madeOn: civilDate('2026-04-20') })).toEqual([])
    expect(kinds({ crop: 'grape', method: 'hardwood-cutting' })).toEqual([])
  })

  it('go by the warmth at which a crop knits', () => {
    expect(kinds({ celsius: 3 })).toEqual(['too-cold'])
    expect(kinds({ celsius: 18 })).toEqual([])
    expect(kinds({ celsius: 19 })).toEqual(['too-warm'])
    expect(kinds({ crop: 'peach_nectarine', celsius: 10 })).toEqual(['too-cold'])
    expect(kinds({ crop: 'hazel', celsius: 40 })).toEqual([])
    expect(kinds({ crop: null, celsius: 40 })).toEqual([])
  })

  it('count the nodes of cuttings', () => {
    expect(kinds({ method: 'hardwood-cutting', crop: 'fig', nodes: 2 })).toEqual(['few-nodes'])
    expect(kinds({ method: 'hardwood-cutting', crop: 'fig', nodes: 3, celsius: 25 })).toEqual([])
    expect(kinds({ method: 'root-cutting', madeOn: civilDate('2026-01-10'), nodes: 0 })).toEqual([])
    expect(kinds({ nodes: 1 })).toEqual([])
  })

  it('send everybody with citrus to the authority first', () => {
    expect(
      kinds({ crop: 'citrus_budwood', method: 't-bud', madeOn: civilDate('2026-07-01'), barkSlips: true }),
    ).toEqual(['ask-the-authority'])
  })

  it('never forbid, and always say what they lean on', () => {
    for (const { key } of methods) {
      for (const { words, basis } of methodWarnings({
        ...question,
        method: key,
        wood: 'in-leaf',
        barkSlips: false,
      })) {
        expect(words).toMatch(/\.$/)
        expect(basis === 'common practice, no source' || basis.source.length > 5).toBe(true)
      }
    }
  })
})
