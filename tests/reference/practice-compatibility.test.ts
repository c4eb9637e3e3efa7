import { describe, expect, it } from 'vitest'
import { compatibilityOf, compatibilityRows, interstemCompatibility } from '#lib/grafting/compatibility.ts'
import { compatibilitySources, type SourceGrade } from '#lib/grafting/compatibility-sources.ts'
import { findRootstock, type GraftPartner } from '#lib/grafting/rootstocks.ts'
import { required } from '#lib/kernel/assert.ts'
import { taxa } from '#seed/reference/taxa.ts'

const familyOf = (taxonKey: string) => taxa.find(({ key }) => key === taxonKey)?.family ?? null

/** `pyrus-communis 'Comice'`: species, and a variety or clone in quotes. */
function partner(text: string): GraftPartner {
  const [, taxonKey = '', name] = required(text.trim().match(/^([a-z-]+)(?: '(.+)')?$/), text)
  return { taxonKey, family: familyOf(taxonKey), names: name === undefined ? [] : [name] }
}

const letters: Readonly<Record<string, string>> = {
  C: 'compatible',
  U: 'usually',
  S: 'sometimes',
  P: 'poor',
  X: 'incompatible',
}

const grades: Readonly<Record<string, SourceGrade>> = {
  a: 'published',
  b: 'nursery-or-several-growers',
  c: 'growers-reports',
  m: 'common-practice',
}

/**
 * The group's matrix of graft compatibility, pair by pair: scion, stock, rating (C compatible, U usually, S
 * sometimes, P poor or short-lived, X incompatible; D where later failure is known), grade of the source (a paper or
 * extension, b nursery or several growers, c growers’ reports, m common practice, no source). The source of each
 * block stands above it, as it was read: excerpts and abstracts.
 */
const matrix = `
# Apple. University of New Hampshire extension for apple and pear; growers’ forums; the rest common practice
malus-domestica > malus-domestica: C c
malus-domestica > malus-baccata: U D m
malus-domestica > malus-fusca: S D m
malus-domestica > pyrus-communis: P D a
malus-domestica 'Winter Banana' > pyrus-communis: S D c
pyrus-communis > malus-domestica: P D a
malus-domestica > cydonia-oblonga: X D c
malus-domestica > crataegus-monogyna: P D c
malus-domestica > amelanchier-alnifolia: P D c
malus-domestica > mespilus-germanica: S c
# Pear. UC Davis Fruit & Nut Education for Comice, Bartlett and Bosc on quince; nurseries’ tables; growers
pyrus-communis > pyrus-communis: C m
pyrus-communis > pyrus-calleryana: C c
pyrus-communis > pyrus-ussuriensis: S D b
pyrus-pyrifolia > pyrus-betulifolia: C c
pyrus-pyrifolia > pyrus-communis: U D b
pyrus-pyrifolia > cydonia-oblonga: P D m
pyrus-communis 'Comice' > cydonia-oblonga: U a
pyrus-communis 'Beurré Hardy' > cydonia-oblonga: U b
pyrus-communis 'Conference' > cydonia-oblonga 'Quince A': U b
pyrus-communis 'Bartlett' > cydonia-oblonga: P D a
pyrus-communis 'Williams’ Bon Chrétien' > cydonia-oblonga: P D a
pyrus-communis 'Bosc' > cydonia-oblonga: P D a
pyrus-communis 'Packham’s Triumph' > cydonia-oblonga: S D b
pyrus-communis > cydonia-oblonga: S D b
pyrus-communis > crataegus-monogyna: S D c
# Quince, medlar, loquat. A New Zealand nursery’s table; growers’ forums
cydonia-oblonga > cydonia-oblonga: C m
cydonia-oblonga > pyrus-communis: P D c
cydonia-oblonga > crataegus-monogyna: U b
mespilus-germanica > crataegus-monogyna: U D b
mespilus-germanica > cydonia-oblonga: U m
mespilus-germanica > pyrus-communis: S b
eriobotrya-japonica > cydonia-oblonga: U b
eriobotrya-japonica > pyrus-communis: S D c
sorbopyrus-auricularis > pyrus-communis: S c
# Peach and almond. UC Davis; a peach-and-plum-stock paper (abstract); nurseries
prunus-persica > prunus-persica: C a
prunus-persica > prunus-persica-dulcis 'GF 677': C a
prunus-persica > prunus-dulcis: U D b
prunus-persica > prunus-armeniaca: S D b
prunus-persica > prunus-cerasifera: P D a
prunus-persica > prunus-cerasifera-munsoniana 'Marianna 2624': P D a
prunus-persica > prunus-insititia 'St Julien A': U m
prunus-persica > prunus-salicina-persica 'Citation': S b
prunus-persica > prunus-tomentosa: S D c
prunus-persica > prunus-avium: X m
prunus-dulcis > prunus-persica: C b
prunus-dulcis > prunus-cerasifera: S D b
prunus-dulcis 'Nonpareil' > prunus-cerasifera-munsoniana: P D m
prunus-dulcis > prunus-armeniaca: P D m
prunus-armeniaca > prunus-dulcis: P D m
# Apricot. Aula Dei trial of apricot on plum stocks (abstract); an old manual; nurseries
prunus-armeniaca > prunus-armeniaca: C b
prunus-armeniaca > prunus-persica: U D b
prunus-armeniaca > prunus-cerasifera: S D a
prunus-armeniaca 'Moniqui' > prunus-cerasifera: P D a
prunus-armeniaca 'Paviot' > prunus-cerasifera: U a
prunus-armeniaca > prunus-insititia: U a
prunus-armeniaca > prunus-domestica: U b
prunus-armeniaca > prunus-mahaleb: X m
# Plum. Aula Dei long-term trial of plum (abstract); UC Davis; nurseries; growers
prunus-domestica > prunus-insititia: C a
prunus-domestica > prunus-cerasifera: U D a
prunus-domestica 'Reine-Claude verte' > prunus-cerasifera: P D a
prunus-domestica > prunus-persica: S D a
prunus-domestica 'Stanley' > prunus-persica-dulcis: P D a
prunus-domestica > prunus-armeniaca: P D b
prunus-salicina > prunus-cerasifera: U a
prunus-salicina 'Friar' > prunus-cerasifera 'Myrobalan B': P a
prunus-salicina 'Friar' > prunus-cerasifera: U a
prunus-salicina > prunus-persica: U a
prunus-salicina > prunus-armeniaca: S D b
prunus-domestica > prunus-salicina: S D c
prunus-salicina-armeniaca > prunus-persica: U b
prunus-salicina-armeniaca > prunus-armeniaca: S D c
# Cherry. HortScience on mahaleb (abstract); an extension excerpt; a grower’s guide; growers
prunus-avium > prunus-avium: C a
prunus-avium > prunus-mahaleb: U D a
prunus-avium > prunus-cerasus: S D b
prunus-avium > prunus-cerasus-canescens 'Gisela 5': U m
prunus-cerasus > prunus-mahaleb: C m
prunus-avium > prunus-domestica: X D c
prunus-avium > prunus-cerasifera 'Adara': S D c
prunus-avium > prunus-persica: X b
prunus-avium > prunus-serotina: P c
# Citrus. A rootstock chart (excerpt); a University of California manuscript of about 1986 (copied); growers
citrus-sinensis > poncirus-trifoliata: U D a
citrus-paradisi > citrus-aurantium: P D m
citrus-limon 'Eureka' > poncirus-trifoliata: X D a
citrus-limon 'Eureka' > citrus-aurantium: P D a
citrus-limon 'Eureka' > citrus-sinensis: C a
citrus-limon 'Lisbon' > poncirus-trifoliata: U D b
citrus-limon 'Meyer' > citrus-sinensis-trifoliata 'Troyer': S D b
citrus-unshiu > citrus-volkameriana: S D a
citrus-sinensis 'Valencia' > citrus-microcarpa: P D b
fortunella-japonica > poncirus-trifoliata: S D c
fortunella-japonica > citrus-jambhiri: S c
citrus-limon > bergera-koenigii: P m
# Fig and vine. Growers; Agronomy 10(5):706 (2020); Vitis 17 (1978)
ficus-carica > ficus-carica: C m
ficus-carica > morus-alba: X c
morus-alba > ficus-carica: X c
vitis-vinifera > vitis-berlandieri-riparia 'SO4': C D a
vitis-rotundifolia > vitis-vinifera: P D a
vitis-vinifera > vitis-rotundifolia: P D a
vitis-rotundifolia > vitis-rotundifolia: C m
# Persimmon. Growers’ forums and mailing list
diospyros-kaki > diospyros-virginiana: U D c
diospyros-kaki 'Hachiya' > diospyros-lotus: C c
diospyros-kaki 'Fuyu' > diospyros-lotus: P D c
diospyros-kaki 'Jiro' > diospyros-lotus: S D c
diospyros-kaki > diospyros-kaki: C m
diospyros-virginiana > diospyros-kaki: P D c
diospyros-virginiana > diospyros-lotus: S c
# Nuts. UC IPM and PNW Handbooks (blackline); J Am Soc Hort Sci 119(6):1127; Lourizán
juglans-regia > juglans-regia: C a
juglans-regia > juglans-hindsii: C D a
juglans-nigra > juglans-nigra: C m
juglans-ailantifolia > juglans-nigra: U m
castanea-mollissima > castanea-mollissima: U D a
castanea-dentata > castanea-mollissima: S D a
castanea-sativa > castanea-sativa: C a
castanea-sativa > castanea-crenata: P D a
# Others. Growers; South African avocado yearbook 1988; UC Davis (kiwifruit); Acta Hort 913
morus-alba > morus-rubra: C c
morus-nigra > morus-alba: S D c
persea-americana > persea-americana: C a
olea-europaea > olea-europaea: C m
actinidia-chinensis > actinidia-deliciosa: C a
actinidia-deliciosa > actinidia-arguta: S a
actinidia-arguta > actinidia-deliciosa: S m
ribes-uva-crispa > ribes-aureum: U m
ziziphus-jujuba > ziziphus-jujuba: C m
asimina-triloba > asimina-triloba: C m
mangifera-indica > mangifera-indica: C m
dimocarpus-longan > dimocarpus-longan: S D c
`

const pairs = matrix
  .split('\n')
  .filter((line) => line.includes('>'))
  .map((line) => {
    const [, scion = '', stock = '', letter = '', later, grade = ''] = required(
      line.match(/^(.+) > (.+): ([CUSPX])( D)? ([abcm])$/),
      line,
    )
    return { scion, stock, rating: letters[letter], failsLater: later !== undefined, grade: grades[grade] }
  })

describe('the matrix of graft compatibility', () => {
  it('covers every pair that was read', () => {
    expect(pairs.length).toBeGreaterThan(110)
  })

  it.each(pairs)('$scion on $stock', ({ scion, stock, rating, failsLater, grade }) => {
    const found = compatibilityOf(partner(scion), partner(stock))
    expect({ rating: found.rating, failsLater: found.failsLater, grade: found.grade }).toEqual({
      rating,
      failsLater,
      grade,
    })
  })

  it('names a source, or says that there is none, in every row', () => {
    for (const { source } of compatibilityRows) {
      const { grade, basis } = compatibilitySources[source]
      expect(grade === 'common-practice').toBe(basis === 'common practice, no source')
    }
  })

  it('goes one way only: apricot on peach says nothing of peach on apricot', () => {
    expect(compatibilityOf(partner('prunus-armeniaca'), partner('prunus-persica')).rating).toBe('usually')
    expect(compatibilityOf(partner('prunus-persica'), partner('prunus-armeniaca')).rating).toBe('sometimes')
  })

  it('says nothing where nothing was read', () => {
    expect(compatibilityOf(partner('cydonia-oblonga'), partner('mespilus-germanica'))).toMatchObject({
      rating: 'unknown',
      grade: null,
      warns: true,
    })
  })
})

describe('a piece in between', () => {
  it('is two checks, and the worse decides', () => {
    const bartlett = partner("pyrus-communis 'Bartlett'")
    const oldHome = partner("pyrus-communis 'Old Home'")
    const quince = partner('cydonia-oblonga')
    expect(compatibilityOf(bartlett, quince).rating).toBe('poor')
    expect(interstemCompatibility(bartlett, oldHome, quince)).toMatchObject({
      scionOnInterstem: { rating: 'compatible' },
      interstemOnStock: { rating: 'usually' },
      rating: 'usually',
      warns: false,
    })
  })
})

describe('rootstocks by their names (common knowledge, no source)', () => {
  it.each([
    ['MM106', 'malus-domestica'],
    ['mm 106 rootstock', 'malus-domestica'],
    ['MM-106 (semi-dwarf)', 'malus-domestica'],
    ['Quince A', 'cydonia-oblonga'],
    ['OH×F 97', 'pyrus-communis'],
    ['St. Julien A', 'prunus-insititia'],
    ['Marianna 2624', 'prunus-cerasifera-munsoniana'],
    ['gisela 5', 'prunus-cerasus-canescens'],
  ])('%s is %s', (text, taxonKey) => {
    expect(findRootstock(text)?.taxonKey).toBe(taxonKey)
  })

  it('are not guessed at', () => {
    expect(findRootstock('something my uncle had')).toBeNull()
    expect(findRootstock('')).toBeNull()
  })
})
