import { describe, expect, it } from 'vitest'
import { type StorageProfile, storageProfileFor, storageProfiles } from '#lib/viability/storage-profiles.ts'
import { daysOf, stint, windowOf } from '#tests/unit/viability/stints.ts'

const { apple, avocado, citrus_budwood, grape, pear } = storageProfiles

describe('what is told beside the window', () => {
  const flagsAt = (celsius: number, profile: StorageProfile = apple) =>
    windowOf(profile, [stint(0, null, celsius)], { packaging: 'sealed_bag' }).flags

  it('says nothing of sound wood in a read fridge', () => {
    expect(flagsAt(2)).toEqual([])
    expect(flagsAt(5, citrus_budwood)).toEqual([])
  })

  it('asks to look at apple that has been at −18 °C, at once', () => {
    expect(flagsAt(-18)).toContain('inspect-after-frost')
    expect(flagsAt(-17.9)).not.toContain('inspect-after-frost')
  })

  it('asks to look at swollen buds after less frost than at tight ones', () => {
    const frostAfter = (days: number, celsius: number) =>
      windowOf(apple, [stint(0, days, 6), stint(days, days + 1, celsius), stint(days + 1, null, 2)]).flags
    expect(frostAfter(5, -9.4)).not.toContain('inspect-after-frost')
    expect(frostAfter(60, -9.4)).toContain('inspect-after-frost')
    expect(frostAfter(60, -9.3)).not.toContain('inspect-after-frost')
  })

  it('asks to look at buds that were swollen when cut, if the place they are in freezes', () => {
    const flags = (budStage: number) => windowOf(apple, [stint(0, null, -10)], { budStage }).flags
    expect(flags(1)).toContain('inspect-after-frost')
    expect(flags(0)).not.toContain('inspect-after-frost')
  })

  it('never says that frost or cold has ended a window', () => {
    const window = windowOf(citrus_budwood, [stint(0, null, -10)])
    expect(window.flags).toEqual(expect.arrayContaining(['inspect-after-frost', 'too-cold-for-evergreen']))
    for (const run of ['early', 'likely', 'late'] as const) expect(window[run].limitedBy).toBe('reserve')
  })

  it('says when nobody noted the packaging, and assumes a sealed bag', () => {
    const unknown = windowOf(apple, [stint(0, null, 2)])
    expect(unknown.flags).toEqual(['packaging-not-recorded'])
    const sealed = windowOf(apple, [stint(0, null, 2)], { packaging: 'sealed_bag' })
    expect(daysOf(unknown)).toEqual(daysOf(sealed))
  })

  it('warns of mould in a damp sealed bag, and of fruit in the same store', () => {
    const flags = (more: Parameters<typeof windowOf>[2]) => windowOf(apple, [stint(0, null, 2)], more).flags
    expect(flags({ packaging: 'sealed_damp' })).toEqual(['watch-for-mould'])
    expect(flags({ packaging: 'sealed_bag', nearRipeningFruit: true })).toEqual(['ripening-fruit-nearby'])
    expect(flags({ packaging: 'sealed_bag', nearRipeningFruit: false })).toEqual([])
  })

  it('warns of evergreen wood kept colder than suits it', () => {
    expect(flagsAt(5.9, avocado)).toContain('too-cold-for-evergreen')
    expect(flagsAt(6, avocado)).not.toContain('too-cold-for-evergreen')
  })

  it('says when the model is stretched', () => {
    expect(flagsAt(30)).not.toContain('outside-model-range')
    expect(flagsAt(30.1)).toContain('outside-model-range')
    expect(flagsAt(-2)).not.toContain('outside-model-range')
    expect(flagsAt(-2.1)).toContain('outside-model-range')
  })

  it('says when the plant is not in the table', () => {
    const { profile, isFallback } = storageProfileFor('medlar')
    expect(isFallback).toBe(true)
    expect(flagsAt(2, profile)).toContain('unknown-group')
  })

  it('says when a temperature is only assumed', () => {
    const assumed = windowOf(apple, [stint(0, null, { low: 2, mid: 4.5, high: 8 }, 'assumed')])
    expect(assumed.flags).toContain('temperature-assumed')
    expect(assumed.evidence.basis).toBe('C')
  })

  it('does not make a hole of the six hours that a journey takes', () => {
    const journey = windowOf(apple, [stint(0, 10, 2, 'logger'), stint(10.25, null, 2, 'logger')])
    expect(journey.flags).toEqual(['packaging-not-recorded'])
    expect(journey.evidence.basis).toBe('A')
    const longer = windowOf(apple, [stint(0, 10, 2, 'logger'), stint(10 + 6.01 / 24, null, 2, 'logger')])
    expect(longer.flags).toContain('gap-in-record')
    expect(longer.evidence.basis).toBe('C')
  })

  it('calls the evidence A with a logger and a storage trial, B with typed readings, C by convention', () => {
    expect(windowOf(grape, [stint(0, null, 1, 'logger')]).evidence).toMatchObject({
      grade: 'good',
      basis: 'A',
    })
    expect(windowOf(grape, [stint(0, null, 1)]).evidence).toMatchObject({ basis: 'B' })
    expect(windowOf(storageProfiles.walnut, [stint(0, null, 1, 'logger')]).evidence.basis).toBe('B')
    expect(windowOf(pear, [stint(0, null, 1, 'logger')]).evidence.basis).toBe('C')
    expect(windowOf(grape, [stint(0, null, 1)]).evidence.sources).toEqual(['ijsar2018', 'wample', 'alley'])
  })
})
