import { type CompatibilityRow, on, varietiesOf } from '#lib/grafting/compatibility-row.ts'

const peach = 'prunus-persica'
const almond = 'prunus-dulcis'
/** Peach × almond stocks such as GF 677. */
const peachAlmond = 'prunus-persica-dulcis'
/** Plum × peach stocks such as Citation. */
const plumPeach = 'prunus-salicina-persica'
const apricot = 'prunus-armeniaca'
const plum = 'prunus-domestica'
const damson = 'prunus-insititia'
const cherryPlum = 'prunus-cerasifera'
/** Marianna is taken for a hybrid of the cherry plum, and has a key of its own. */
const marianna = 'prunus-cerasifera-munsoniana'
const japanesePlum = 'prunus-salicina'
const pluot = 'prunus-salicina-armeniaca'
const sweetCherry = 'prunus-avium'
const sourCherry = 'prunus-cerasus'
const mahaleb = 'prunus-mahaleb'
/** Hybrids of the sour cherry such as the Gisela stocks. */
const gisela = 'prunus-cerasus-canescens'
const cherries = [sweetCherry, sourCherry]
const cherryStocks = [sweetCherry, sourCherry, mahaleb, gisela]
const plumStocks = [plum, damson, cherryPlum, marianna, japanesePlum]

/** Peach, almond, apricot, plums and cherries. */
export const stoneRows: readonly CompatibilityRow[] = [
  on(peach, [peach, peachAlmond], 'compatible', 'davisPlum'),
  on(peach, almond, 'usually', 'nurseryTable', { later: true, note: 'Listed as workable.' }),
  on(peach, apricot, 'sometimes', 'nurseryTable', { later: true, note: 'Short-lived.' }),
  on(peach, [cherryPlum, marianna], 'poor', 'peachPlum', {
    later: true,
    note: 'Leaf symptoms by August and starch above the union in the trial. One nursery says no, another yes.',
  }),
  on(peach, damson, 'usually', 'commonPractice'),
  on(peach, plumPeach, 'sometimes', 'almondNursery', { note: 'Young trees lack vigour.' }),
  on(peach, ['prunus-besseyi', 'prunus-tomentosa', 'prunus-americana'], 'sometimes', 'growersForums', {
    later: true,
    note: 'Dwarf; poor survival for some.',
  }),
  on(peach, cherryStocks, 'incompatible', 'commonPractice'),
  on(almond, [almond, peach, peachAlmond], 'compatible', 'almondNursery'),
  on(almond, [marianna, cherryPlum], 'sometimes', 'almondNursery', {
    later: true,
    note: 'Some varieties only.',
  }),
  on(varietiesOf(almond, 'Nonpareil'), marianna, 'poor', 'commonPractice', {
    later: true,
    note: 'Nonpareil is said not to go on Marianna.',
  }),
  on(almond, apricot, 'poor', 'commonPractice', { later: true, note: 'Weak unions.' }),
  on(apricot, almond, 'poor', 'commonPractice', {
    later: true,
    note: 'Weak unions; one growers’ chart lists apricot on almond.',
  }),
  on(apricot, apricot, 'compatible', 'nurseryTable'),
  on(apricot, peach, 'usually', 'almondNursery', { later: true, note: 'It goes by the variety.' }),
  on(apricot, [cherryPlum, marianna], 'sometimes', 'apricotTrial', {
    later: true,
    note: 'It goes by the variety and the clone.',
  }),
  on(varietiesOf(apricot, 'Canino', 'Moniqui'), [cherryPlum, marianna], 'poor', 'apricotTrial', {
    later: true,
    note: 'A weak union that breaks later.',
  }),
  on(varietiesOf(apricot, 'Paviot'), [cherryPlum, marianna], 'usually', 'apricotTrial', {
    note: 'Good in the trial.',
  }),
  on(apricot, damson, 'usually', 'apricotTrial', {
    note: 'Good with all varieties tried, two clones of stock excepted.',
  }),
  on(apricot, ['prunus-americana', plum], 'usually', 'oldManual', {
    note: 'Seedling European plums are common stocks.',
  }),
  on(apricot, cherryStocks, 'incompatible', 'commonPractice'),
  on([plum, damson], [plum, damson], 'compatible', 'plumTrial'),
  on([plum, damson], [cherryPlum, marianna], 'usually', 'plumTrial', { later: true }),
  on(varietiesOf(plum, 'Reine Claude Verte', 'Green Gage', 'Greengage'), cherryPlum, 'poor', 'plumTrial', {
    later: true,
    note: 'Failed on two myrobalan clones from the second year.',
  }),
  on([plum, damson], [peachAlmond, peach], 'sometimes', 'plumTrial', { later: true }),
  on(varietiesOf(plum, 'Stanley'), [peachAlmond, peach], 'poor', 'plumTrial', {
    later: true,
    note: 'Failed on six hybrids; two other varieties were fine on nearly all stocks tried.',
  }),
  on([plum, damson], apricot, 'poor', 'nurseryTable', { later: true, note: 'Most varieties do not go.' }),
  on(japanesePlum, [cherryPlum, marianna], 'usually', 'plumTrial'),
  on(varietiesOf(japanesePlum, 'Friar'), varietiesOf(cherryPlum, 'Myrobalan B'), 'poor', 'plumTrial', {
    note: 'Failed in the trial.',
  }),
  on(japanesePlum, peach, 'usually', 'davisPlum', { note: 'Commercial practice.' }),
  on(japanesePlum, apricot, 'sometimes', 'nurseryTable', { later: true }),
  on([plum, damson], japanesePlum, 'sometimes', 'growersForums', {
    later: true,
    note: 'Grafted on branches of Japanese plum it takes; too early to judge.',
  }),
  on(pluot, [...plumStocks, peach, plumPeach], 'usually', 'almondNursery'),
  on(pluot, apricot, 'sometimes', 'growersForums', { later: true, note: 'Several died in the second year.' }),
  on(sweetCherry, sweetCherry, 'compatible', 'cherryMahaleb', { note: 'Trouble is rarer than on mahaleb.' }),
  on(sweetCherry, mahaleb, 'usually', 'cherryMahaleb', {
    later: true,
    note: 'Some varieties outgrow the union and drop leaves early.',
  }),
  on(sweetCherry, sourCherry, 'sometimes', 'extensionExcerpt', {
    later: true,
    note: 'It can unite, and is a poor stock.',
  }),
  on(sweetCherry, gisela, 'usually', 'commonPractice', { note: 'Sensitive to viruses.' }),
  on(sourCherry, [mahaleb, sweetCherry], 'compatible', 'commonPractice'),
  on(cherries, plumStocks, 'incompatible', 'growersForums', {
    later: true,
    note: 'Adara, a cherry plum, is the exception growers use in between; one such tree collapsed within months.',
  }),
  on(cherries, varietiesOf(cherryPlum, 'Adara'), 'sometimes', 'growersForums', {
    later: true,
    note: 'Used as a piece in between; one tree with it collapsed within months.',
  }),
  on(cherries, [peach, almond, apricot, peachAlmond], 'incompatible', 'graftingGuide'),
  on(cherries, ['prunus-padus', 'prunus-serotina'], 'poor', 'growersForums', { note: 'Reports conflict.' }),
]
