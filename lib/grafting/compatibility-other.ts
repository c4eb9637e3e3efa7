import { type CompatibilityRow, eitherWay, on, varietiesOf } from '#lib/grafting/compatibility-row.ts'

const kaki = 'diospyros-kaki'
const virginiana = 'diospyros-virginiana'
const lotus = 'diospyros-lotus'
const regia = 'juglans-regia'
const walnutStocks = ['juglans-hindsii', 'juglans-nigra', 'juglans-hindsii-regia']
const muscadine = 'vitis-rotundifolia'
const mulberries = ['morus-alba', 'morus-rubra']

const otherKaki = on(kaki, lotus, 'sometimes', 'growersForums', {
  later: true,
  note: 'Astringent kinds go, the non-astringent kinds around Fuyu mostly do not.',
})

/** Figs, vines, persimmons, nuts, kiwifruit and all the rest. */
export const otherRows: readonly CompatibilityRow[] = [
  on('ficus-carica', 'ficus-carica', 'compatible', 'commonPractice', {
    note: 'Figs mostly stand on their own roots; grafting is for changing a tree.',
  }),
  on('ficus-carica', 'ficus', 'sometimes', 'commonPractice'),
  ...eitherWay('ficus', 'morus', 'incompatible', 'growersForums', { note: 'Tried, without result.' }),
  on(
    ['vitis-vinifera', 'vitis-labrusca'],
    ['vitis', 'vitis-vinifera', 'vitis-labrusca'],
    'compatible',
    'vitisVirus',
    {
      later: true,
      note: 'It goes by the clone and the viruses in it.',
    },
  ),
  ...eitherWay(muscadine, ['vitis-vinifera', 'vitis-labrusca', 'vitis'], 'poor', 'muscadine', {
    later: true,
    note: 'The classic case. Grafted green it can take; later failure is not ruled out.',
  }),
  on(kaki, virginiana, 'usually', 'growersForums', {
    later: true,
    note: 'One orchard declined at about 15 years; others are old and sound.',
  }),
  otherKaki,
  on(varietiesOf(kaki, 'Hachiya', 'Saijo', 'Tanenashi', 'Giombo'), lotus, 'compatible', 'growersForums', {
    note: 'An astringent kind; which kinds are astringent is common knowledge.',
  }),
  on(
    varietiesOf(kaki, 'Fuyu', 'Hana Fuyu', 'Matsumoto Wase Fuyu', 'Izu', 'Suruga'),
    lotus,
    'poor',
    'growersForums',
    {
      later: true,
      note: 'A non-astringent kind. An astringent piece in between is reported with mixed results.',
    },
  ),
  on(varietiesOf(kaki, 'Jiro'), lotus, 'sometimes', 'growersForums', {
    later: true,
    note: 'Noted as the exception among non-astringent kinds.',
  }),
  on(kaki, kaki, 'compatible', 'commonPractice'),
  on(virginiana, kaki, 'poor', 'growersForums', {
    later: true,
    note: 'It takes and then dwindles; hybrids and one variety do better.',
  }),
  on(virginiana, lotus, 'sometimes', 'growersForums', { note: 'It goes by the variety.' }),
  on(virginiana, virginiana, 'usually', 'growersForums', {
    note: 'Kinds with 90 chromosomes on kinds with 60: about 30 years without trouble reported.',
  }),
  on(regia, regia, 'compatible', 'blackline', { note: 'Cherry leafroll virus does not kill this union.' }),
  on(regia, walnutStocks, 'compatible', 'blackline', {
    later: true,
    note: 'Cherry leafroll virus kills the union: usual in trees of 15 to 40 years, 2 to 6 years from the first signs.',
  }),
  on('juglans-nigra', 'juglans-nigra', 'compatible', 'commonPractice'),
  on('juglans-ailantifolia', 'juglans-nigra', 'usually', 'commonPractice'),
  on('castanea-mollissima', 'castanea-mollissima', 'usually', 'chestnutTrial', {
    later: true,
    note: '80 % after two seasons.',
  }),
  on(['castanea-dentata', 'castanea-crenata'], 'castanea-mollissima', 'sometimes', 'chestnutTrial', {
    later: true,
    note: '70 % or more over all; a few pairs clearly failed.',
  }),
  on('castanea-sativa', 'castanea-sativa', 'compatible', 'lourizan'),
  on('castanea-sativa', ['castanea-crenata', 'castanea-mollissima'], 'poor', 'lourizan', {
    later: true,
    note: 'Hybrid stocks were bred for this; it goes by the clone.',
  }),
  on(mulberries, mulberries, 'compatible', 'growersForums', { note: 'Called interchangeable.' }),
  on('morus-nigra', mulberries, 'sometimes', 'growersForums', {
    later: true,
    note: 'Many take; it has a name for being difficult.',
  }),
  on('persea-americana', 'persea-americana', 'compatible', 'avocado1988', {
    note: 'Of any race. Failures were traced to wood, rootstock and surroundings.',
  }),
  on('persea-americana', 'persea', 'poor', 'commonPractice'),
  on('olea-europaea', 'olea-europaea', 'compatible', 'commonPractice'),
  on('olea', ['fraxinus', 'ligustrum', 'osmanthus'], 'poor', 'commonPractice', { later: true }),
  on(['actinidia-deliciosa', 'actinidia-chinensis'], 'actinidia-deliciosa', 'compatible', 'davisKiwi', {
    note: 'Seedlings of it are the usual stock. A male limb can be grafted in.',
  }),
  on(['actinidia-deliciosa', 'actinidia-chinensis'], 'actinidia-arguta', 'sometimes', 'kiwiHybrids', {
    note: 'Weaker growth on a hybrid of it.',
  }),
  on('actinidia-arguta', 'actinidia-deliciosa', 'sometimes', 'commonPractice'),
  on('ribes', ['ribes-aureum', 'ribes-odoratum'], 'usually', 'commonPractice', { note: 'For standards.' }),
  on('ziziphus', 'ziziphus', 'compatible', 'commonPractice'),
  on('annona', 'annona-cherimola', 'usually', 'rareFruitSociety'),
  on('asimina', 'annona', 'poor', 'rareFruitSociety', { later: true, note: 'It took for one season.' }),
  on('asimina', 'asimina', 'compatible', 'commonPractice'),
  on('mangifera', 'mangifera', 'compatible', 'commonPractice'),
  on('dimocarpus-longan', 'dimocarpus-longan', 'sometimes', 'tropicalGrowers', {
    later: true,
    note: 'Failure after 10 to 20 years is described for tropical fruit.',
  }),
]
