import { type CompatibilityRow, on, varietiesOf } from '#lib/grafting/compatibility-row.ts'

const apple = 'malus-domestica'
const pear = 'pyrus-communis'
const asianPear = 'pyrus-pyrifolia'
const quince = 'cydonia'
const hawthorn = 'crataegus'

/** Pears that several lists call friendly to quince, shy of it, or both. */
const quinceFriendly = varietiesOf(
  pear,
  'Comice',
  'Doyenné du Comice',
  'Beurré Hardy',
  'Hardy',
  'Old Home',
  'Flemish Beauty',
  'Conference',
)
const comice = varietiesOf(pear, 'Comice', 'Doyenné du Comice')
const quinceShy = varietiesOf(pear, 'Bartlett', 'Williams', 'Williams’ Bon Chrétien', 'Bosc', 'Beurré Bosc')
const quinceDisputed = varietiesOf(
  pear,
  'Anjou',
  'Beurré d’Anjou',
  'Winter Nelis',
  'Packham',
  'Packham’s Triumph',
  'Clapp',
  'Clapp’s Favourite',
  'Clapp’s Favorite',
)

/** Apple, pear, quince, medlar, loquat and what they are put on. */
export const pomeRows: readonly CompatibilityRow[] = [
  on(apple, apple, 'compatible', 'growersForums', {
    note: 'Some modern stocks react to a virus that the scion carries without a sign.',
  }),
  on(apple, ['malus-baccata', 'malus-prunifolia'], 'usually', 'commonPractice', {
    later: true,
    note: 'These stocks are sensitive to viruses, and may grow more or less strongly than the scion.',
  }),
  on(apple, ['malus-fusca', 'malus-coronaria', 'malus-sargentii'], 'sometimes', 'commonPractice', {
    later: true,
    note: 'Dwarfing.',
  }),
  on('malus', 'pyrus', 'poor', 'newHampshire', { later: true }),
  on(varietiesOf(apple, 'Winter Banana'), 'pyrus', 'sometimes', 'growersForums', {
    later: true,
    note: 'Reported to bridge apple and pear; many such unions are short-lived.',
  }),
  on('pyrus', 'malus', 'poor', 'newHampshire', { later: true, note: 'It takes, and is short-lived.' }),
  on('malus', quince, 'incompatible', 'growersForums', {
    later: true,
    note: 'Reported only through two pieces in between.',
  }),
  on('malus', hawthorn, 'poor', 'growersForums', {
    later: true,
    note: 'One variety was questionable, the rest failed.',
  }),
  on('malus', 'amelanchier', 'poor', 'growersForums', {
    later: true,
    note: 'Growth in the first year only.',
  }),
  on('malus', 'mespilus', 'sometimes', 'growersForums', { note: 'Few good reports.' }),
  on(pear, pear, 'compatible', 'commonPractice'),
  on(pear, ['pyrus-calleryana', 'pyrus-betulifolia'], 'compatible', 'growersForums', {
    note: 'Birch-leaved pear makes vigorous trees.',
  }),
  on(pear, [asianPear, 'pyrus-ussuriensis'], 'sometimes', 'nurseryTable', {
    later: true,
    note: 'A disorder of the fruit, and sensitive to pear decline.',
  }),
  on(asianPear, ['pyrus-betulifolia', 'pyrus-calleryana', asianPear], 'compatible', 'growersForums'),
  on(asianPear, pear, 'usually', 'nurseryTable', { later: true, note: 'May be dwarfed.' }),
  on(asianPear, quince, 'poor', 'commonPractice', { later: true }),
  on(pear, quince, 'sometimes', 'nurseryTable', {
    later: true,
    note: 'It goes by the variety: look it up before you graft.',
  }),
  on(comice, quince, 'usually', 'davisQuince'),
  on(quinceFriendly, quince, 'usually', 'nurseryTable'),
  on(quinceShy, quince, 'poor', 'davisQuince', {
    later: true,
    note: 'Needs a piece of Beurré Hardy, Old Home or Comice in between. It may take 8 to 10 years or more to show.',
  }),
  on(quinceDisputed, quince, 'sometimes', 'nurseryTable', {
    later: true,
    note: 'On lists of both kinds; growers disagree.',
  }),
  on(quince, quince, 'compatible', 'commonPractice'),
  on(quince, 'pyrus', 'poor', 'growersForums', {
    later: true,
    note: 'Death in two to three years is reported, with single successes.',
  }),
  on(quince, hawthorn, 'usually', 'nurseryTable'),
  on('pyrus', hawthorn, 'sometimes', 'growersForums', {
    later: true,
    note: 'Dwarf. One grower’s grafts all died within a few years without fruit; Old Home is said to do well.',
  }),
  on('mespilus', hawthorn, 'usually', 'nurseryTable', {
    later: true,
    note: 'Thrives, and outgrows the stock.',
  }),
  on('mespilus', quince, 'usually', 'commonPractice'),
  on('mespilus', 'pyrus', 'sometimes', 'nurseryTable', {
    note: 'A strong first year is reported; the table calls it imperfect.',
  }),
  on('eriobotrya', 'eriobotrya', 'compatible', 'commonPractice'),
  on('eriobotrya', quince, 'usually', 'nurseryTable', { note: 'Dwarfing.' }),
  on('eriobotrya', [hawthorn, 'pyrus'], 'sometimes', 'growersForums', { later: true, note: 'Slow.' }),
  on(['sorbus', 'sorbopyrus'], ['pyrus', 'sorbus'], 'sometimes', 'growersForums'),
]
