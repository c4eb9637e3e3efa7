import type { FactBasis } from '#lib/grafting/methods.ts'

/** How far what is said can be leaned on. */
export type SourceGrade = 'published' | 'nursery-or-several-growers' | 'growers-reports' | 'common-practice'

export interface CompatibilitySource {
  readonly grade: SourceGrade
  readonly basis: FactBasis
}

const published = (source: string) => ({ grade: 'published', basis: { source } }) as const
const nursery = (source: string) => ({ grade: 'nursery-or-several-growers', basis: { source } }) as const
const growers = (source: string) => ({ grade: 'growers-reports', basis: { source } }) as const

/**
 * What the compatibility rows lean on. Each was read as an excerpt or abstract; a source may say more than is used
 * here. What growers report comes from those who cared to write, and says nothing about how often.
 */
export const compatibilitySources = {
  commonPractice: { grade: 'common-practice', basis: 'common practice, no source' },
  newHampshire: published('University of New Hampshire extension, home orchard leaflet'),
  davisQuince: published(
    'University of California, Davis, Fruit & Nut Education: quince as a pear rootstock',
  ),
  davisPlum: published('University of California, Davis, Fruit & Nut Education: plum scions and rootstocks'),
  davisKiwi: published(
    'University of California, Davis, Fruit & Nut Education: kiwifruit scions and rootstocks',
  ),
  kiwiHybrids: published('Acta Hort 913, paper 50: kiwifruit on hybrid stocks (abstract)'),
  apricotTrial: published('Aula Dei, Zaragoza: graft compatibility of apricot on plum stocks (abstract)'),
  plumTrial: published(
    'Aula Dei, Zaragoza: long-term graft compatibility of plum on Prunus stocks (abstract)',
  ),
  peachPlum: published('Carbohydrates in peach on compatible and incompatible plum stocks (abstract)'),
  cherryMahaleb: published('HortScience: sweet cherry on mahaleb stocks (abstract)'),
  citrusChart: published('Citrus rootstock and scion chart (excerpt; author not in it)'),
  citrusColumn: nursery('Citrus rootstock and scion chart (excerpt; the column was inferred)'),
  citrusManuscript: nursery(
    'University of California manuscript on citrus rootstocks, about 1986 (copied excerpts)',
  ),
  vitisVirus: published('Agronomy 10(5):706, 2020: graft compatibility of grape vines'),
  muscadine: published('Vitis 17, 1978: grafts of Vitis rotundifolia and Euvitis'),
  blackline: published('University of California IPM and PNW Handbooks: walnut blackline'),
  chestnutTrial: published('J Am Soc Hort Sci 119(6):1127, 1994, doi 10.21273/jashs.119.6.1127'),
  lourizan: published('Lourizán forest research centre, Galicia: chestnut rootstocks'),
  avocado1988: published('South African Avocado Growers’ Association yearbook, 1988'),
  nurseryTable: nursery('A New Zealand nursery’s table of rootstocks for fruit trees'),
  pearNursery: nursery('An Australian nursery’s page on dwarf pears'),
  oldManual: nursery('American Horticultural Manual: stocks for plum, apricot and peach'),
  almondNursery: nursery('A Californian nursery’s notes on rootstocks, 2012'),
  graftingGuide: nursery('A grower’s guide to graft compatibility of fruit trees (Greece)'),
  extensionExcerpt: nursery('An extension service’s answer on cherry stocks (excerpt)'),
  growersForums: growers('Growers’ forums and mailing lists'),
  tropicalGrowers: growers('Growers’ reports on tropical fruit'),
  rareFruitSociety: growers('An Australian rare-fruit society’s grafting tips'),
} as const satisfies Readonly<Record<string, CompatibilitySource>>

export type CompatibilitySourceKey = keyof typeof compatibilitySources
