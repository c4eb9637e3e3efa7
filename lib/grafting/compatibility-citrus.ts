import { type CompatibilityRow, on, varietiesOf } from '#lib/grafting/compatibility-row.ts'

const lemon = 'citrus-limon'
const orange = 'citrus-sinensis'
const sourOrange = 'citrus-aurantium'
const grapefruit = 'citrus-paradisi'
const mandarin = 'citrus-reticulata'
const satsuma = 'citrus-unshiu'
const trifoliate = 'poncirus-trifoliata'
/** Sweet orange × trifoliate, such as Troyer and Carrizo. */
const citrange = 'citrus-sinensis-trifoliata'
/** Grapefruit × trifoliate, such as Swingle. */
const citrumelo = 'citrus-paradisi-trifoliata'
const roughLemon = 'citrus-jambhiri'
const alemow = 'citrus-macrophylla'
const volkamer = 'citrus-volkameriana'
const calamondin = 'citrus-microcarpa'
const trifoliateStocks = [trifoliate, citrange, citrumelo]
const sweet = [orange, mandarin, satsuma, grapefruit]

const eureka = varietiesOf(lemon, 'Eureka')

/** Citrus. Moving its wood is forbidden in many places, whatever unites with what: ask your agricultural authority. */
export const citrusRows: readonly CompatibilityRow[] = [
  on(sweet, trifoliateStocks, 'usually', 'citrusChart', {
    later: true,
    note: 'Some lines of navel orange decline after about 20 years on trifoliate orange. Tatter leaf virus in the scion spoils unions on these stocks.',
  }),
  on(sweet, sourOrange, 'poor', 'commonPractice', {
    later: true,
    note: 'It unites, and declines where tristeza virus is about.',
  }),
  on(eureka, trifoliateStocks, 'incompatible', 'citrusChart', { later: true }),
  on(eureka, [roughLemon, alemow, sourOrange], 'poor', 'citrusChart', {
    later: true,
    note: 'Failure after about 5 to 15 years.',
  }),
  on(eureka, [orange, 'citrus-pyriformis'], 'compatible', 'citrusChart', { note: 'A record of 20 years.' }),
  on(varietiesOf(lemon, 'Lisbon'), [trifoliate, citrange], 'usually', 'citrusColumn', {
    later: true,
    note: 'Sometimes short-lived; read from a column that had slipped.',
  }),
  on(varietiesOf(lemon, 'Meyer'), varietiesOf(citrange, 'Troyer'), 'sometimes', 'citrusManuscript', {
    later: true,
    note: 'A crease at the bud union.',
  }),
  on(satsuma, volkamer, 'sometimes', 'citrusChart', { later: true, note: 'Overgrowth at the union.' }),
  on([grapefruit, varietiesOf(orange, 'Valencia')], calamondin, 'poor', 'citrusManuscript', {
    later: true,
    note: 'A crease in two to three years, not from a virus; a piece in between is suggested.',
  }),
  on(varietiesOf(lemon, 'Meyer'), calamondin, 'usually', 'citrusManuscript'),
  on('fortunella', trifoliate, 'sometimes', 'growersForums', {
    later: true,
    note: 'A study that is cited lost all in a year; nurseries do it commonly.',
  }),
  on('fortunella', roughLemon, 'sometimes', 'growersForums', { note: 'Fine for 18 months in one report.' }),
  on('citrus', ['clausena', 'murraya', 'bergera'], 'poor', 'commonPractice'),
]
