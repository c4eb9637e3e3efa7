import type { StorageProfileKey } from '#lib/viability/storage-profiles.ts'

/**
 * The plants a group starts with. The genera and species are those of the storage table and the compatibility
 * matrix; families, and the species of a genus that those tables name without one, are common knowledge written
 * from memory. A storage profile with the comment "by likeness" is the nearest group, chosen without a source.
 */
export interface Taxon {
  /** Never changes: genus and species in small letters. */
  readonly key: string
  /** With × for a hybrid genus. */
  readonly genus: string
  /** With × for a hybrid species. */
  readonly species: string
  readonly commonName: string
  /** A rule can go by it: Rutaceae, the citrus family, is blocked unless a group decides otherwise. */
  readonly family: string
  readonly storageProfile: StorageProfileKey
}

type Row = readonly [genus: string, species: string, commonName: string, storageProfile: StorageProfileKey]

const keyOf = (genus: string, species: string) =>
  `${genus} ${species}`
    .toLowerCase()
    .match(/[a-z-]+/g)
    ?.join('-') ?? ''

function family(name: string, rows: readonly Row[]): Taxon[] {
  return rows.map(([genus, species, commonName, storageProfile]) => ({
    key: keyOf(genus, species),
    genus,
    species,
    commonName,
    family: name,
    storageProfile,
  }))
}

const rosaceae = family('Rosaceae', [
  ['Malus', 'domestica', 'Apple', 'apple'],
  ['Malus', 'baccata', 'Siberian crab apple', 'apple'],
  ['Malus', 'prunifolia', 'Plum-leaved crab apple', 'apple'],
  ['Malus', 'fusca', 'Pacific crab apple', 'apple'],
  ['Malus', 'coronaria', 'Sweet crab apple', 'apple'],
  ['Malus', 'sargentii', 'Sargent’s crab apple', 'apple'],
  ['Pyrus', 'communis', 'European pear', 'pear'],
  ['Pyrus', 'pyrifolia', 'Asian pear', 'pear'],
  ['Pyrus', 'calleryana', 'Callery pear', 'pear'],
  ['Pyrus', 'betulifolia', 'Birch-leaved pear', 'pear'],
  ['Pyrus', 'ussuriensis', 'Ussurian pear', 'pear'],
  ['Cydonia', 'oblonga', 'Quince', 'quince'],
  ['Mespilus', 'germanica', 'Medlar', 'unknown_decid'],
  ['Crataegus', 'monogyna', 'Hawthorn', 'unknown_decid'],
  ['Amelanchier', 'alnifolia', 'Saskatoon', 'unknown_decid'],
  ['Sorbus', 'aucuparia', 'Rowan', 'unknown_decid'],
  ['× Sorbopyrus', 'auricularis', 'Shipova', 'unknown_decid'],
  // By likeness: evergreen, so it is taken to keep no longer than wood cut in leaf.
  ['Eriobotrya', 'japonica', 'Loquat', 'summer_budwood'],
  ['Prunus', 'persica', 'Peach and nectarine', 'peach_nectarine'],
  ['Prunus', 'dulcis', 'Almond', 'almond'],
  ['Prunus', 'armeniaca', 'Apricot', 'apricot'],
  ['Prunus', 'domestica', 'European plum', 'plum_european'],
  ['Prunus', 'insititia', 'Damson, bullace and St Julien plum', 'plum_european'],
  ['Prunus', 'cerasifera', 'Cherry plum (myrobalan)', 'plum_japanese'],
  ['Prunus', 'salicina', 'Japanese plum', 'plum_japanese'],
  ['Prunus', 'salicina × armeniaca', 'Plumcot, pluot and aprium', 'plum_japanese'],
  // By likeness: the next four, the bush cherries among them, behave with the plums and the cherries.
  ['Prunus', 'americana', 'American plum', 'plum_japanese'],
  ['Prunus', 'besseyi', 'Western sand cherry', 'plum_japanese'],
  ['Prunus', 'tomentosa', 'Nanking cherry', 'plum_japanese'],
  ['Prunus', 'mahaleb', 'Mahaleb cherry', 'sour_cherry'],
  ['Prunus', 'avium', 'Sweet cherry', 'sweet_cherry'],
  ['Prunus', 'cerasus', 'Sour cherry', 'sour_cherry'],
  ['Prunus', 'serotina', 'Black cherry', 'unknown_decid'],
  ['Prunus', 'padus', 'Bird cherry', 'unknown_decid'],
])

/** Many areas forbid moving wood of this family, because citrus greening and tristeza travel in it. */
const rutaceae = family('Rutaceae', [
  ['Citrus', '× limon', 'Lemon', 'citrus_budwood'],
  ['Citrus', '× sinensis', 'Sweet orange', 'citrus_budwood'],
  ['Citrus', '× aurantium', 'Sour orange', 'citrus_budwood'],
  ['Citrus', '× paradisi', 'Grapefruit', 'citrus_budwood'],
  ['Citrus', 'reticulata', 'Mandarin', 'citrus_budwood'],
  ['Citrus', 'unshiu', 'Satsuma', 'citrus_budwood'],
  ['Fortunella', 'japonica', 'Kumquat', 'citrus_budwood'],
  ['Poncirus', 'trifoliata', 'Trifoliate orange', 'citrus_budwood'],
  // By likeness.
  ['Bergera', 'koenigii', 'Curry leaf', 'citrus_budwood'],
])

const vitaceae = family('Vitaceae', [
  ['Vitis', 'vinifera', 'Grape vine', 'grape'],
  ['Vitis', 'labrusca', 'Fox grape', 'grape'],
  ['Vitis', 'rotundifolia', 'Muscadine', 'grape'],
])

/** Every fruit that the reference tables name, and the stocks it is put on. */
export const taxa: readonly Taxon[] = [
  ...rosaceae,
  ...rutaceae,
  ...vitaceae,
  ...family('Moraceae', [
    ['Ficus', 'carica', 'Fig', 'fig'],
    ['Morus', 'alba', 'White mulberry', 'mulberry'],
    ['Morus', 'nigra', 'Black mulberry', 'mulberry'],
    ['Morus', 'rubra', 'Red mulberry', 'mulberry'],
  ]),
  ...family('Actinidiaceae', [
    ['Actinidia', 'deliciosa', 'Kiwifruit', 'kiwifruit'],
    ['Actinidia', 'chinensis', 'Golden kiwifruit', 'kiwifruit'],
    ['Actinidia', 'arguta', 'Hardy kiwi', 'kiwifruit'],
  ]),
  ...family('Ebenaceae', [
    ['Diospyros', 'kaki', 'Persimmon', 'persimmon'],
    ['Diospyros', 'virginiana', 'American persimmon', 'persimmon'],
    ['Diospyros', 'lotus', 'Date plum', 'persimmon'],
  ]),
  ...family('Lythraceae', [['Punica', 'granatum', 'Pomegranate', 'pomegranate']]),
  ...family('Juglandaceae', [
    ['Juglans', 'regia', 'Walnut', 'walnut'],
    ['Juglans', 'nigra', 'Black walnut', 'walnut'],
    ['Juglans', 'hindsii', 'Northern California walnut', 'walnut'],
    ['Juglans', 'ailantifolia', 'Japanese walnut', 'walnut'],
    ['Carya', 'illinoinensis', 'Pecan', 'pecan'],
  ]),
  ...family('Fagaceae', [
    ['Castanea', 'sativa', 'Sweet chestnut', 'chestnut'],
    ['Castanea', 'mollissima', 'Chinese chestnut', 'chestnut'],
    ['Castanea', 'crenata', 'Japanese chestnut', 'chestnut'],
    ['Castanea', 'dentata', 'American chestnut', 'chestnut'],
  ]),
  ...family('Betulaceae', [['Corylus', 'avellana', 'Hazel', 'hazel']]),
  ...family('Grossulariaceae', [
    ['Ribes', 'nigrum', 'Blackcurrant', 'currant_gooseb'],
    ['Ribes', 'rubrum', 'Red and white currant', 'currant_gooseb'],
    ['Ribes', 'uva-crispa', 'Gooseberry', 'currant_gooseb'],
    ['Ribes', 'aureum', 'Golden currant', 'currant_gooseb'],
    ['Ribes', 'odoratum', 'Buffalo currant', 'currant_gooseb'],
  ]),
  ...family('Viburnaceae', [
    ['Sambucus', 'nigra', 'Elder', 'elder'],
    ['Sambucus', 'canadensis', 'American elder', 'elder'],
  ]),
  ...family('Ericaceae', [['Vaccinium', 'corymbosum', 'Highbush blueberry', 'blueberry']]),
  ...family('Oleaceae', [['Olea', 'europaea', 'Olive', 'olive']]),
  ...family('Lauraceae', [['Persea', 'americana', 'Avocado', 'avocado']]),
  ...family('Anacardiaceae', [
    // By likeness: the storage table itself names mango as the analogue of avocado.
    ['Mangifera', 'indica', 'Mango', 'avocado'],
  ]),
  ...family('Annonaceae', [
    ['Asimina', 'triloba', 'Pawpaw', 'unknown_decid'],
    // By likeness: tender, and hurt by cold.
    ['Annona', 'cherimola', 'Cherimoya', 'avocado'],
  ]),
  // By likeness: tropical and evergreen, hurt by cold.
  ...family('Sapindaceae', [['Dimocarpus', 'longan', 'Longan', 'avocado']]),
  ...family('Malvaceae', [['Durio', 'zibethinus', 'Durian', 'avocado']]),
  ...family('Rhamnaceae', [['Ziziphus', 'jujuba', 'Jujube', 'unknown_decid']]),
]
