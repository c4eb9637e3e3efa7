import { describe, expect, test } from 'vitest'
import { findMethod } from '#lib/grafting/methods.ts'
import { varietySeeds } from '#seed/demo/data/varieties.ts'
import { type Batch, cropOfTaxon, takeRate, treatments, trueTake, varietyEffect } from '#seed/demo/truth.ts'
import { taxa } from '#seed/reference/taxa.ts'

const usual: Batch = {
  crop: 'apple',
  method: 'whip-and-tongue',
  treatment: null,
  variety: 'Ribston Pippin',
  hands: 'ten_to_hundred',
  woodAgeDays: 30,
  luck: 0,
}

describe('the truth of the demo world', () => {
  test('is the written rate for a middling variety, practised hands and young wood', () => {
    expect(trueTake(usual)).toBeCloseTo(0.87, 12)
  })

  test('is worse for first grafts, for old wood and for a difficult variety', () => {
    expect(trueTake({ ...usual, hands: 'first_ten' })).toBeLessThan(0.8)
    expect(trueTake({ ...usual, woodAgeDays: 140 })).toBeLessThan(trueTake(usual))
    expect(trueTake({ ...usual, variety: "D'Arcy Spice" })).toBeLessThan(trueTake(usual))
  })

  test('does not count the first eight weeks of age', () => {
    expect(trueTake({ ...usual, woodAgeDays: 56 })).toBe(trueTake(usual))
  })

  test('says nothing of a method that a crop does not know', () => {
    expect(() => trueTake({ ...usual, crop: 'fig' })).toThrow('whip-and-tongue for fig')
  })

  test('speaks of known methods and listed varieties only', () => {
    for (const rates of Object.values(takeRate))
      for (const method of Object.keys(rates)) expect(findMethod(method)?.key).toBe(method)
    for (const { crops, method } of treatments)
      for (const crop of crops) expect(takeRate[crop][method]).toBeDefined()
    const names = varietySeeds.map(({ name }) => name)
    expect(names).toEqual(expect.arrayContaining(Object.keys(varietyEffect)))
  })

  test('knows the crop of every variety, and the taxon is in the reference list', () => {
    const keys = taxa.map(({ key }) => key)
    for (const { taxonKey } of varietySeeds) {
      expect(keys).toContain(taxonKey)
      expect(cropOfTaxon[taxonKey]).toBeDefined()
    }
  })
})
