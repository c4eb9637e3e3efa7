import type { IdentityBasis, LimbOrigin } from '#lib/platform/generated/enums.ts'
import type { Crop } from '#seed/demo/truth.ts'

export interface LimbSeed {
  readonly mark: string
  /** Null: nobody knows what it is. */
  readonly variety: string | null
  readonly origin: LimbOrigin
  readonly identity: IdentityBasis
  readonly heightCm?: number
  readonly side?: string
  readonly healthNote?: string
}

export interface TreeSeed {
  readonly keeper: string
  readonly rootstock?: string
  readonly place: string
  /** Years before the demo's present in which it was planted. */
  readonly plantedYearsAgo: number
  readonly note?: string
  readonly crop: Crop
  readonly limbs: readonly LimbSeed[]
}

type GraftRow = readonly [
  variety: string | null,
  identity: IdentityBasis,
  heightCm: number,
  side: string,
  healthNote?: string,
]

export const marks = 'ABCDEFGHJKMNPQRSTUVW'

/** The tree's own top first, then what was grafted on, from the ground up. */
function manyLimbs(own: readonly [string, IdentityBasis], grafts: readonly GraftRow[]): LimbSeed[] {
  const [variety, identity] = own
  return [
    { mark: 'A', variety, origin: 'own', identity },
    ...grafts.map(
      ([name, basis, heightCm, side, healthNote], i): LimbSeed => ({
        mark: marks.charAt(i + 1),
        variety: name,
        origin: name === null ? 'unknown' : 'grafted',
        identity: basis,
        heightCm,
        side,
        ...(healthNote === undefined ? {} : { healthNote }),
      }),
    ),
  ]
}

/** The trees that people in the Circle talk about, most of them with many limbs. All invented. */
export const namedTrees: readonly TreeSeed[] = [
  {
    keeper: 'nell',
    rootstock: 'St Julien A',
    place: 'Marrow Lane plot, row 2, the corner tree',
    plantedYearsAgo: 12,
    note: 'Leave at least two shoots of the nurse limb.',
    crop: 'plum',
    limbs: manyLimbs(
      ['Victoria', 'nursery_tag'],
      [
        ['Shropshire Prune', 'fruited_true', 105, 'north-east'],
        ['Reine Claude Verte', 'donor_word', 130, 'west', 'Swelling at the union. Look again in May.'],
        ['Mirabelle de Nancy', 'fruited_true', 150, 'east'],
        ["Coe's Golden Drop", 'donor_word', 175, 'north'],
        ["Marjorie's Seedling", 'donor_word', 195, 'south-west'],
        [null, 'unknown', 215, 'west', 'Label lost. Do not cut for the swap.'],
        ['Warwickshire Drooper', 'expert', 230, 'south'],
        ['Pershore', 'donor_word', 245, 'north-west'],
        ['Shropshire Prune', 'fruited_true', 260, 'east'],
      ],
    ),
  },
  {
    keeper: 'wren',
    place: 'By the shed, the old crab',
    plantedYearsAgo: 31,
    note: 'Cankered on the north side; the south is sound.',
    crop: 'apple',
    limbs: manyLimbs(
      ['Grenadier', 'expert'],
      [
        ["Ashmead's Kernel", 'fruited_true', 120, 'south'],
        ['Egremont Russet', 'fruited_true', 140, 'south-east'],
        ["D'Arcy Spice", 'donor_word', 165, 'east'],
        ['Rosemary Russet', 'donor_word', 190, 'south-west'],
      ],
    ),
  },
  {
    keeper: 'nell',
    rootstock: 'MM111',
    place: 'Marrow Lane plot, row 1, the group’s back-up tree',
    plantedYearsAgo: 9,
    crop: 'apple',
    limbs: manyLimbs(
      ["Bramley's Seedling", 'dna'],
      [
        ["Ashmead's Kernel", 'dna', 90, 'south'],
        ["D'Arcy Spice", 'dna', 110, 'east'],
        ['Court Pendu Plat', 'fruited_true', 130, 'west'],
        ['Orleans Reinette', 'expert', 150, 'north'],
        ['Annie Elizabeth', 'fruited_true', 170, 'south-east'],
        ['Blenheim Orange', 'fruited_true', 195, 'north-east'],
      ],
    ),
  },
  {
    keeper: 'odile',
    rootstock: 'Quince A',
    place: 'House wall, facing south-west',
    plantedYearsAgo: 14,
    crop: 'pear',
    limbs: manyLimbs(
      ['Beurré Superfin', 'fruited_true'],
      [
        ['Joséphine de Malines', 'fruited_true', 110, 'left arm'],
        ['Doyenné du Comice', 'nursery_tag', 150, 'right arm'],
        ["Williams' Bon Chrétien", 'donor_word', 185, 'left arm', 'Thin leaves in August.'],
      ],
    ),
  },
  {
    keeper: 'joss',
    rootstock: 'Seedling pear',
    place: 'Behind the garage',
    plantedYearsAgo: 40,
    crop: 'pear',
    limbs: manyLimbs(['Catillac', 'expert'], [[null, 'unknown', 210, 'south', 'Came with the house.']]),
  },
  {
    keeper: 'idris',
    rootstock: 'MM106',
    place: 'Allotment 9, far end',
    plantedYearsAgo: 11,
    crop: 'apple',
    limbs: manyLimbs(
      ["Cox's Orange Pippin", 'nursery_tag'],
      [
        ['Court Pendu Plat', 'fruited_true', 80, 'south'],
        ['Ribston Pippin', 'donor_word', 100, 'west'],
        ["Peasgood's Nonsuch", 'fruited_true', 125, 'north'],
      ],
    ),
  },
  {
    keeper: 'idris',
    rootstock: 'Montclar (peach)',
    place: 'Allotment 9, shed wall',
    plantedYearsAgo: 6,
    crop: 'peach',
    limbs: [{ mark: 'A', variety: 'Rochester', origin: 'own', identity: 'nursery_tag' }],
  },
  {
    keeper: 'maud',
    rootstock: 'M26',
    place: 'Front garden',
    plantedYearsAgo: 10,
    crop: 'apple',
    limbs: manyLimbs(["D'Arcy Spice", 'fruited_true'], [['Egremont Russet', 'fruited_true', 90, 'south']]),
  },
  {
    keeper: 'fenna',
    rootstock: 'MM106',
    place: 'Orchard, third from the gate',
    plantedYearsAgo: 16,
    crop: 'apple',
    limbs: [{ mark: 'A', variety: 'Egremont Russet', origin: 'own', identity: 'fruited_true' }],
  },
  {
    keeper: 'tobias',
    place: 'Glasshouse border',
    plantedYearsAgo: 8,
    crop: 'fig',
    limbs: [
      {
        mark: 'A',
        variety: 'Ronde de Bordeaux',
        origin: 'own',
        identity: 'fruited_true',
        healthNote: 'Mosaic seen on leaves.',
      },
    ],
  },
  {
    keeper: 'tobias',
    place: 'South wall',
    plantedYearsAgo: 7,
    crop: 'fig',
    limbs: [{ mark: 'A', variety: 'Desert King', origin: 'own', identity: 'donor_word' }],
  },
  {
    keeper: 'greta',
    place: 'Front lawn',
    plantedYearsAgo: 60,
    note: 'Older than the house.',
    crop: 'mulberry',
    limbs: [{ mark: 'A', variety: 'Chelsea', origin: 'own', identity: 'expert' }],
  },
  {
    keeper: 'greta',
    rootstock: 'Colt',
    place: 'North wall',
    plantedYearsAgo: 9,
    crop: 'cherry',
    limbs: [{ mark: 'A', variety: 'Morello', origin: 'own', identity: 'fruited_true' }],
  },
  {
    keeper: 'samir',
    place: 'Fruit cage',
    plantedYearsAgo: 6,
    crop: 'currant',
    limbs: [{ mark: 'A', variety: 'Baldwin', origin: 'own', identity: 'nursery_tag' }],
  },
  {
    keeper: 'edmund',
    place: 'Lean-to glasshouse',
    plantedYearsAgo: 25,
    note: 'Root outside, rod inside.',
    crop: 'grape',
    limbs: [{ mark: 'A', variety: 'Black Hamburgh', origin: 'own', identity: 'expert' }],
  },
  {
    keeper: 'gethin',
    rootstock: 'M25',
    place: 'Bank above the lane',
    plantedYearsAgo: 4,
    crop: 'apple',
    limbs: [{ mark: 'A', variety: 'Tolland Ember', origin: 'own', identity: 'nursery_tag' }],
  },
]

/** What each crop stands on, the usual first; empty for crops on their own roots. */
export const rootstocks: Readonly<Record<Crop, readonly string[]>> = {
  apple: ['MM106', 'M26', 'M25', 'MM111', 'M9'],
  pear: ['Quince A', 'Quince C', 'Pyrodwarf', 'Seedling pear'],
  quince: ['Quince A'],
  medlar: ['Quince A', 'Hawthorn'],
  plum: ['St Julien A', 'Myrobalan B', 'Pixy'],
  cherry: ['Colt', 'Gisela 5'],
  peach: ['St Julien A', 'Montclar (peach)'],
  apricot: ['Torinel', 'St Julien A'],
  fig: [],
  mulberry: [],
  currant: [],
  gooseberry: [],
  grape: [],
  walnut: ['Seedling walnut'],
  hazel: ['Seedling hazel'],
}

export const places: readonly string[] = [
  'Front garden',
  'Back garden, by the hedge',
  'Allotment 3',
  'Allotment 14',
  'South wall',
  'Behind the garage',
  'Orchard, first row',
  'Orchard, second row',
  'By the gate',
  'Side passage',
  'Chapel yard',
  'Below the pond',
]

export const sides: readonly string[] = [
  'north',
  'north-east',
  'east',
  'south-east',
  'south',
  'south-west',
  'west',
  'north-west',
]
