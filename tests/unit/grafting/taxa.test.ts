import { describe, expect, it } from 'vitest'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import { taxa } from '#seed/reference/taxa.ts'

const byKey = new Map(taxa.map((taxon) => [taxon.key, taxon]))

describe('the taxa a group starts with', () => {
  it('have keys that are unique and made of small letters', () => {
    expect(byKey.size).toBe(taxa.length)
    for (const { key } of taxa) expect(key).toMatch(/^[a-z]+(-[a-z]+)+$/)
    expect(byKey.get('malus-domestica')).toMatchObject({ commonName: 'Apple', storageProfile: 'apple' })
    expect(byKey.get('prunus-salicina-armeniaca')).toMatchObject({ species: 'salicina × armeniaca' })
    expect(byKey.get('sorbopyrus-auricularis')).toMatchObject({ genus: '× Sorbopyrus' })
    expect(byKey.get('ribes-uva-crispa')).toMatchObject({ commonName: 'Gooseberry' })
    expect(byKey.get('citrus-limon')).toMatchObject({ species: '× limon' })
  })

  it('leave no storage group without a plant', () => {
    const used = new Set(taxa.map(({ storageProfile }) => storageProfile))
    expect(
      Object.keys(storageProfiles).filter((key) => !used.has(key as keyof typeof storageProfiles)),
    ).toEqual([])
  })

  it('put every citrus and its relatives into the one family that a rule can block', () => {
    const citrus = taxa.filter(({ storageProfile }) => storageProfile === 'citrus_budwood')
    expect(citrus).toHaveLength(9)
    expect(citrus.map(({ family }) => family)).toEqual(Array(9).fill('Rutaceae'))
    expect(taxa.filter(({ family }) => family === 'Rutaceae')).toEqual(citrus)
  })

  it('put every genus into one family', () => {
    const families = new Map<string, Set<string>>()
    for (const { genus, family } of taxa) families.set(genus, (families.get(genus) ?? new Set()).add(family))
    expect([...families].filter(([, names]) => names.size > 1)).toEqual([])
  })

  it('keep evergreen wood out of the profiles for wood that drops its leaves', () => {
    for (const key of ['eriobotrya-japonica', 'mangifera-indica', 'olea-europaea', 'citrus-reticulata']) {
      const taxon = byKey.get(key)
      expect(taxon && storageProfiles[taxon.storageProfile].chillPortions, key).toBeNull()
    }
  })
})
