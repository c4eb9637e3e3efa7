import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'

/** A plant as compatibility sees it: what it is, and by which names its variety or clone goes. */
export interface GraftPartner {
  /** Genus and species in small letters with hyphens, as the list of taxa has it: `malus-domestica`. */
  readonly taxonKey: string
  /** Botanical family; null when it is not known. */
  readonly family: string | null
  /** The variety or clone with its other names; empty when it is not known. */
  readonly names: readonly string[]
}

type Row = readonly [taxonKey: string, family: string, names: readonly string[]]

/**
 * Rootstocks by the names that growers write, and what they are. A name that says only what kind of stock it is
 * (“quince”, “seedling apple”) stands here too. Common knowledge of the trade, no source.
 */
const rows: readonly Row[] = [
  [
    'malus-domestica',
    'Rosaceae',
    ['M9', 'M26', 'M27', 'M7', 'M25', 'M116', 'M111', 'M106', 'M4', 'MM106', 'MM111'],
  ],
  ['malus-domestica', 'Rosaceae', ['Bud 9', 'B9', 'Bud 118', 'B118', 'P2', 'P18', 'P22', 'Antonovka']],
  [
    'malus-domestica',
    'Rosaceae',
    ['G11', 'G16', 'G30', 'G41', 'G202', 'G210', 'G214', 'G222', 'G890', 'G935', 'G969'],
  ],
  ['malus-domestica', 'Rosaceae', ['apple', 'apple seedling', 'seedling apple', 'domestic apple']],
  [
    'pyrus-communis',
    'Rosaceae',
    ['OHxF', 'OHxF 40', 'OHxF 69', 'OHxF 87', 'OHxF 97', 'OHxF 333', 'OHxF 513'],
  ],
  ['pyrus-communis', 'Rosaceae', ['Pyrodwarf', 'pear', 'pear seedling', 'seedling pear', 'European pear']],
  ['pyrus-calleryana', 'Rosaceae', ['calleryana', 'callery pear', 'Callery']],
  ['pyrus-betulifolia', 'Rosaceae', ['betulifolia', 'betulaefolia']],
  [
    'cydonia-oblonga',
    'Rosaceae',
    ['Quince A', 'Quince C', 'Quince BA29', 'BA29', 'QA', 'QC', 'Eline', 'quince'],
  ],
  ['crataegus-monogyna', 'Rosaceae', ['hawthorn']],
  [
    'prunus-insititia',
    'Rosaceae',
    ['St Julien A', 'St. Julien A', 'St Julien', 'St Julian A', 'Pixy', 'Wavit'],
  ],
  ['prunus-domestica', 'Rosaceae', ['Brompton', 'European plum', 'plum seedling']],
  [
    'prunus-cerasifera',
    'Rosaceae',
    ['Myrobalan', 'Myrobalan B', 'Myrobalan 29C', 'Myro 29C', 'cherry plum', 'Adara'],
  ],
  ['prunus-cerasifera-munsoniana', 'Rosaceae', ['Marianna', 'Marianna 2624']],
  ['prunus-salicina-persica', 'Rosaceae', ['Citation']],
  ['prunus-persica', 'Rosaceae', ['Lovell', 'Nemaguard', 'Halford', 'Montclar', 'peach', 'peach seedling']],
  [
    'prunus-persica-dulcis',
    'Rosaceae',
    ['GF677', 'GF 677', 'Hansen 536', 'Nickels', 'Garnem', 'peach almond hybrid'],
  ],
  ['prunus-dulcis', 'Rosaceae', ['almond', 'almond seedling']],
  ['prunus-armeniaca', 'Rosaceae', ['apricot', 'apricot seedling', 'Manicot']],
  ['prunus-avium', 'Rosaceae', ['Mazzard', 'F12/1', 'wild cherry', 'gean']],
  ['prunus-mahaleb', 'Rosaceae', ['Mahaleb', 'St Lucie 64', 'SL64']],
  [
    'prunus-cerasus-canescens',
    'Rosaceae',
    ['Gisela 3', 'Gisela 5', 'Gisela 6', 'Gisela 12', 'Gisela', 'Gi 5', 'Gi 6'],
  ],
  ['juglans-hindsii-regia', 'Juglandaceae', ['Paradox']],
  ['juglans-nigra', 'Juglandaceae', ['black walnut']],
  ['juglans-regia', 'Juglandaceae', ['English walnut', 'common walnut']],
  ['diospyros-lotus', 'Ebenaceae', ['lotus', 'date plum']],
  ['diospyros-virginiana', 'Ebenaceae', ['virginiana', 'American persimmon']],
  ['poncirus-trifoliata', 'Rutaceae', ['trifoliate orange', 'trifoliata', 'Flying Dragon', 'Rubidoux']],
  ['citrus-sinensis-trifoliata', 'Rutaceae', ['Troyer', 'Carrizo', 'C35', 'citrange']],
  ['citrus-paradisi-trifoliata', 'Rutaceae', ['Swingle', 'citrumelo']],
  ['citrus-aurantium', 'Rutaceae', ['sour orange']],
  ['citrus-jambhiri', 'Rutaceae', ['rough lemon']],
  ['citrus-macrophylla', 'Rutaceae', ['macrophylla', 'alemow']],
  ['citrus-volkameriana', 'Rutaceae', ['Volkameriana', 'Volkamer lemon']],
  ['vitis-berlandieri-riparia', 'Vitaceae', ['SO4', '5BB', 'Kober 5BB', '5C', '420A', '161-49']],
  ['vitis-berlandieri-rupestris', 'Vitaceae', ['110R', '1103P', '140Ru', '99R']],
  ['vitis-riparia-rupestris', 'Vitaceae', ['3309', '3309C', '101-14', 'Schwarzmann']],
]

const byName: ReadonlyMap<string, GraftPartner> = new Map(
  rows.flatMap(([taxonKey, family, names]) =>
    names.map((name) => [cultivarSearchKey(name), { taxonKey, family, names: [name] }] as const),
  ),
)

/**
 * What a rootstock is, from the words somebody wrote for it; null when the words are not known. “MM 106”,
 * “mm106 rootstock” and “MM-106 (semi-dwarf)” are the same.
 */
export function findRootstock(text: string): GraftPartner | null {
  const bare = text
    .replace(/\(.*?\)/gu, ' ')
    .replace(/×/gu, 'x')
    .replace(/\b(?:root)?stocks?\b/giu, ' ')
  return byName.get(cultivarSearchKey(bare)) ?? null
}
