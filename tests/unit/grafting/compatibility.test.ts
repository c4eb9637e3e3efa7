import { describe, expect, it } from 'vitest'
import { compatibilityOf, compatibilityRows, interstemCompatibility } from '#lib/grafting/compatibility.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import type { GraftPartner } from '#lib/grafting/rootstocks.ts'
import { taxa } from '#seed/reference/taxa.ts'

const plant = (taxonKey: string, family: string | null, ...names: readonly string[]): GraftPartner => ({
  taxonKey,
  family,
  names,
})

const apple = plant('malus-domestica', 'Rosaceae')
const pear = plant('pyrus-communis', 'Rosaceae')
const quince = plant('cydonia-oblonga', 'Rosaceae')
const fig = plant('ficus-carica', 'Moraceae')

describe('what goes with what', () => {
  it('goes by the variety before the species, whatever accents and quotes it is written with', () => {
    const shy = plant('pyrus-communis', 'Rosaceae', 'Williams Bon Chretien')
    expect(compatibilityOf(shy, quince)).toMatchObject({ rating: 'poor', match: 'variety', warns: true })
    expect(compatibilityOf(pear, quince)).toMatchObject({ rating: 'sometimes', match: 'genus' })
  })

  it('finds a variety by any of its names', () => {
    const pearOfTwoNames = plant('pyrus-communis', 'Rosaceae', 'Good Christian', 'Bartlett')
    expect(compatibilityOf(pearOfTwoNames, quince).rating).toBe('poor')
  })

  it('goes by the genus for a species without a row of its own', () => {
    expect(compatibilityOf(plant('malus-sieversii', 'Rosaceae'), pear)).toMatchObject({
      rating: 'poor',
      match: 'genus',
    })
  })

  it('takes one species to go together unless a row says otherwise', () => {
    const rowan = plant('corylus-avellana', 'Betulaceae')
    expect(compatibilityOf(rowan, rowan)).toMatchObject({
      rating: 'compatible',
      match: 'same-species',
      grade: 'common-practice',
      warns: false,
    })
  })

  it('takes different families not to go together, and says nothing when a family is not known', () => {
    expect(compatibilityOf(apple, fig)).toMatchObject({ rating: 'incompatible', match: 'other-family' })
    expect(compatibilityOf(apple, { ...fig, family: null })).toMatchObject({ rating: 'unknown', basis: null })
  })

  it('says nothing of two genera of one family that no row names', () => {
    const cherry = plant('prunus-avium', 'Rosaceae')
    expect(compatibilityOf(apple, cherry)).toMatchObject({ rating: 'unknown', match: 'nothing', warns: true })
  })

  it('reads two rows that are equally close as the worse', () => {
    const stanley = plant('prunus-domestica', 'Rosaceae', 'Stanley', 'Reine Claude Verte')
    expect(compatibilityOf(stanley, plant('prunus-cerasifera', 'Rosaceae')).rating).toBe('poor')
  })
})

describe('a piece in between', () => {
  it('does not help where its own union is poor', () => {
    const { rating, warns } = interstemCompatibility(pear, apple, apple)
    expect([rating, warns]).toEqual(['poor', true])
  })

  it('is unknown where one union is, and neither is poor', () => {
    const medlar = plant('mespilus-germanica', 'Rosaceae')
    expect(interstemCompatibility(quince, medlar, plant('crataegus-monogyna', 'Rosaceae')).rating).toBe(
      'unknown',
    )
  })
})

describe('the rows', () => {
  it('name plants of the list of taxa, genera, or hybrids used as stocks', () => {
    const genera = new Set(taxa.map(({ key }) => key.split('-')[0] ?? ''))
    const strangers = ['clausena', 'murraya', 'fraxinus', 'ligustrum', 'osmanthus']
    for (const { scion, stock } of compatibilityRows) {
      for (const side of [...scion, ...stock]) {
        const genus = side.plant.split('-')[0] ?? ''
        expect(genera.has(genus) || strangers.includes(genus), side.plant).toBe(true)
      }
    }
  })

  it('fold every variety name as names are compared', () => {
    const names = compatibilityRows.flatMap(({ scion, stock }) =>
      [...scion, ...stock].flatMap((s) => s.varieties),
    )
    expect(names.length).toBeGreaterThan(20)
    for (const name of names) expect(name).toBe(cultivarSearchKey(name))
  })
})
