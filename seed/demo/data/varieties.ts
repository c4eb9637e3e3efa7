import type { NameCertainty, ProtectionStatus, SynonymKind } from '#lib/platform/generated/enums.ts'

export interface VarietySeed {
  readonly name: string
  readonly taxonKey: string
  readonly certainty: NameCertainty
  readonly introducedYear?: number
  readonly note?: string
  readonly synonyms: readonly { readonly name: string; readonly kind: SynonymKind }[]
  readonly protection: ProtectionStatus
  readonly protectionNote?: string
  /** 0 to 3: how many people want it. Three is fought over. */
  readonly wanted: 0 | 1 | 2 | 3
}

interface Extra {
  readonly year?: number
  readonly note?: string
  readonly also?: readonly string[]
  readonly certainty?: NameCertainty
  readonly wanted?: VarietySeed['wanted']
}

function variety(taxonKey: string, name: string, extra: Extra = {}): VarietySeed {
  return {
    name,
    taxonKey,
    certainty: extra.certainty ?? 'settled',
    synonyms: (extra.also ?? []).map((synonym) => ({ name: synonym, kind: 'synonym' })),
    protection: 'none_known',
    wanted: extra.wanted ?? 1,
    ...(extra.year === undefined ? {} : { introducedYear: extra.year }),
    ...(extra.note === undefined ? {} : { note: extra.note }),
  }
}

const apples: readonly VarietySeed[] = [
  variety('malus-domestica', "Ashmead's Kernel", {
    note: 'Late dessert russet, sharp and nutty.',
    wanted: 3,
  }),
  variety('malus-domestica', 'Egremont Russet', { note: 'Dessert russet, keeps to Christmas.', wanted: 2 }),
  variety('malus-domestica', "D'Arcy Spice", {
    also: ['Baddow Pippin'],
    note: 'Very late, spiced.',
    wanted: 3,
  }),
  variety('malus-domestica', 'Annie Elizabeth', { note: 'Large late cooker.' }),
  variety('malus-domestica', 'Court Pendu Plat', {
    also: ['Wise Apple'],
    note: 'Flowers late enough to miss most frosts.',
    wanted: 2,
  }),
  variety('malus-domestica', "Bramley's Seedling", { also: ['Bramley'], note: 'The cooker. Triploid.' }),
  variety('malus-domestica', "Cox's Orange Pippin", { also: ['Cox'], year: 1825, wanted: 2 }),
  variety('malus-domestica', 'Blenheim Orange', { also: ["Kempster's Pippin"], note: 'Triploid.' }),
  variety('malus-domestica', 'Grenadier', { note: 'Early cooker, falls to a fluff.', wanted: 0 }),
  variety('malus-domestica', 'Ribston Pippin', { also: ['Glory of York'] }),
  variety('malus-domestica', 'Rosemary Russet', { certainty: 'likely' }),
  variety('malus-domestica', 'Orleans Reinette', {
    certainty: 'disputed',
    note: 'Two trees differ in bloom.',
  }),
  variety('malus-domestica', "Peasgood's Nonsuch", { note: 'Show size.' }),
]

const pears: readonly VarietySeed[] = [
  variety('pyrus-communis', 'Beurré Superfin', { note: 'October pear, melting.', wanted: 2 }),
  variety('pyrus-communis', 'Joséphine de Malines', { note: 'Winter pear, pink flesh.', wanted: 3 }),
  variety('pyrus-communis', 'Winter Nelis', { also: ['Bonne de Malines'], wanted: 2 }),
  variety('pyrus-communis', 'Doyenné du Comice', { also: ['Comice'], wanted: 2 }),
  variety('pyrus-communis', "Williams' Bon Chrétien", {
    also: ['Bartlett'],
    note: 'Shy on quince: use a go-between.',
  }),
  variety('pyrus-communis', 'Catillac', { note: 'Cooks red.', certainty: 'likely' }),
]

const quincesAndMedlars: readonly VarietySeed[] = [
  variety('cydonia-oblonga', 'Vranja', { also: ['Bereczki'], certainty: 'disputed', wanted: 2 }),
  variety('cydonia-oblonga', "Meech's Prolific"),
  variety('mespilus-germanica', 'Nottingham', { note: 'Upright, small, good flavour.', wanted: 2 }),
]

const stoneFruit: readonly VarietySeed[] = [
  variety('prunus-domestica', 'Victoria', { wanted: 0 }),
  variety('prunus-domestica', 'Reine Claude Verte', {
    also: ['Old Green Gage', 'Greengage'],
    note: 'Green gage.',
    wanted: 2,
  }),
  variety('prunus-domestica', "Coe's Golden Drop", { wanted: 2 }),
  variety('prunus-domestica', "Marjorie's Seedling", { note: 'Latest of our plums.' }),
  variety('prunus-domestica', 'Warwickshire Drooper', { certainty: 'likely' }),
  variety('prunus-domestica', 'Pershore', { also: ['Yellow Egg'], certainty: 'likely', wanted: 0 }),
  variety('prunus-insititia', 'Mirabelle de Nancy', { note: 'Small yellow plum.', wanted: 3 }),
  variety('prunus-insititia', 'Shropshire Prune', { also: ['Prune Damson'], note: 'Damson, self-fertile.' }),
  variety('prunus-cerasus', 'Morello', { note: 'Sour; fruits on a north wall.', wanted: 2 }),
  variety('prunus-avium', 'Early Rivers', { certainty: 'likely' }),
  variety('prunus-persica', 'Rochester', { note: 'Outdoor peach.', wanted: 2 }),
  variety('prunus-armeniaca', 'Moorpark', { wanted: 2 }),
]

const toRoot: readonly VarietySeed[] = [
  variety('ficus-carica', 'Ronde de Bordeaux', { note: 'Small dark fig, early.', wanted: 2 }),
  variety('ficus-carica', 'Desert King', {
    note: 'Large green fig, two crops.',
    certainty: 'likely',
    wanted: 2,
  }),
  variety('ficus-carica', 'Brown Turkey', { certainty: 'likely' }),
  variety('morus-nigra', 'Chelsea', { also: ['King James'], wanted: 2 }),
  variety('ribes-nigrum', 'Baldwin', { note: 'Late blackcurrant.' }),
  variety('ribes-rubrum', 'White Versailles', { wanted: 1 }),
  variety('ribes-uva-crispa', 'Leveller', { note: 'Yellow dessert gooseberry.', wanted: 2 }),
  variety('ribes-uva-crispa', "Whinham's Industry"),
  variety('vitis-vinifera', 'Black Hamburgh', { also: ['Schiava Grossa', 'Trollinger'], wanted: 2 }),
]

const nuts: readonly VarietySeed[] = [
  variety('juglans-regia', 'Franquette', { note: 'Leafs late.' }),
  variety('corylus-avellana', 'Kentish Cob', { also: ["Lambert's Filbert"] }),
  variety('corylus-avellana', 'Cosford'),
]

/** Invented, because an application that is not real must not be said of a real variety. */
const underApplication: VarietySeed = {
  ...variety('malus-domestica', 'Tolland Ember', { year: 2019, wanted: 3, note: 'Raised at Tolland Cross.' }),
  synonyms: [
    { name: 'TC 14-07', kind: 'breeder_code' },
    { name: 'Emberglow', kind: 'selling_name' },
  ],
  protection: 'pending',
  protectionNote: 'The raiser has applied. Ask before any wood leaves the garden.',
}

/**
 * What grows in the Circle. Apart from the one that says otherwise these are heritage cultivars; names, synonyms
 * and years are written from memory, and no protection is known to us for any of them.
 */
export const varietySeeds: readonly VarietySeed[] = [
  ...apples,
  ...pears,
  ...quincesAndMedlars,
  ...stoneFruit,
  ...toRoot,
  ...nuts,
  underApplication,
]

/** The one whose protection is pending. */
export const pendingVariety = underApplication.name
