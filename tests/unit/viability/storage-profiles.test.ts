import { describe, expect, it } from 'vitest'
import { assumedCelsius } from '#lib/viability/assumed-celsius.ts'
import { type StorageProfile, storageProfileFor, storageProfiles } from '#lib/viability/storage-profiles.ts'
import { storageSources } from '#lib/viability/storage-sources.ts'

const entries: readonly (readonly [string, StorageProfile])[] = Object.entries(storageProfiles)
const keysWhere = (test: (profile: StorageProfile) => boolean) =>
  entries.filter(([, profile]) => test(profile)).map(([key]) => key)

describe('the storage profiles', () => {
  it('are 28, each under its own key', () => {
    expect(entries).toHaveLength(28)
    for (const [key, profile] of entries) expect(profile.key).toBe(key)
  })

  it('grade the evidence as the table does', () => {
    expect(keysWhere(({ grade }) => grade === 'good')).toEqual(['grape', 'persimmon', 'citrus_budwood'])
    expect(keysWhere(({ grade }) => grade === 'fair')).toEqual([
      'apple',
      'peach_nectarine',
      'walnut',
      'pecan',
      'currant_gooseb',
    ])
  })

  it('name at least one published source for every grade above convention', () => {
    for (const [key, { grade, sources }] of entries) {
      const published = sources.filter((source) => storageSources[source].weight === 'published')
      if (grade !== 'convention') expect(published.length, key).toBeGreaterThan(0)
    }
  })

  it('have no source that no profile leans on', () => {
    const used = new Set(entries.flatMap(([, { sources }]) => sources))
    expect(Object.keys(storageSources).filter((key) => !used.has(key as never))).toEqual([])
  })

  it('give chill and forcing to dormant wood only', () => {
    const notDormant = ['citrus_budwood', 'olive', 'avocado', 'summer_budwood']
    expect(keysWhere(({ chillPortions }) => chillPortions === null)).toEqual(notDormant)
    expect(keysWhere(({ forcingHours }) => forcingHours === null)).toEqual(notDormant)
  })

  it('expect no dormant wood to be hurt by less cold than swollen buds are', () => {
    for (const [key, { inspectDormantBelowC, inspectSwollenBelowC }] of entries) {
      expect(inspectDormantBelowC, key).toBeLessThanOrEqual(inspectSwollenBelowC)
    }
  })

  it('fall back to the cautious profile for an unknown group, and say so', () => {
    expect(storageProfileFor('apple')).toEqual({ profile: storageProfiles.apple, isFallback: false })
    expect(storageProfileFor('medlar')).toEqual({ profile: storageProfiles.unknown_decid, isFallback: true })
    expect(storageProfileFor('toString').isFallback).toBe(true)
  })
})

describe('the temperature of a store', () => {
  it('is what was typed, without a spread', () => {
    expect(assumedCelsius('fridge', 3)).toEqual({ low: 3, mid: 3, high: 3 })
    expect(assumedCelsius('indoors', 0)).toEqual({ low: 0, mid: 0, high: 0 })
  })

  it('is 2, 4.5 or 8 °C in a fridge that nobody has read', () => {
    expect(assumedCelsius('fridge', null)).toEqual({ low: 2, mid: 4.5, high: 8 })
  })

  it('is 5, 12 or 25 °C in any other place that nobody has read', () => {
    for (const kind of ['cellar', 'shed', 'outdoors', 'indoors', 'post'] as const) {
      expect(assumedCelsius(kind, null)).toEqual({ low: 5, mid: 12, high: 25 })
    }
  })
})
