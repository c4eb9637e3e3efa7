import type { FailureCauseKey } from '#lib/grafting/failure-causes.ts'
import type { MethodKey } from '#lib/grafting/methods.ts'
import type { Hands } from '#seed/demo/data/people.ts'

// The truth of the demo world, all in one place: what the results pages estimate was drawn from these numbers.
// They are invented, shaped so that the differences look like those growers speak of; none is a measurement.

/** Crops as the truth knows them. */
export type Crop =
  | 'apple'
  | 'pear'
  | 'quince'
  | 'medlar'
  | 'plum'
  | 'cherry'
  | 'peach'
  | 'apricot'
  | 'fig'
  | 'mulberry'
  | 'currant'
  | 'gooseberry'
  | 'grape'
  | 'walnut'
  | 'hazel'

export const cropOfTaxon: Readonly<Record<string, Crop>> = {
  'malus-domestica': 'apple',
  'pyrus-communis': 'pear',
  'cydonia-oblonga': 'quince',
  'mespilus-germanica': 'medlar',
  'prunus-domestica': 'plum',
  'prunus-insititia': 'plum',
  'prunus-cerasus': 'cherry',
  'prunus-avium': 'cherry',
  'prunus-persica': 'peach',
  'prunus-armeniaca': 'apricot',
  'ficus-carica': 'fig',
  'morus-nigra': 'mulberry',
  'ribes-nigrum': 'currant',
  'ribes-rubrum': 'currant',
  'ribes-uva-crispa': 'gooseberry',
  'vitis-vinifera': 'grape',
  'juglans-regia': 'walnut',
  'corylus-avellana': 'hazel',
}

/** Chance that a piece is alive at its first look: a middling variety, practised hands, wood under eight weeks old. */
export const takeRate: Readonly<Record<Crop, Readonly<Partial<Record<MethodKey, number>>>>> = {
  apple: { 'whip-and-tongue': 0.87, cleft: 0.81, splice: 0.78, bark: 0.8, 'chip-bud': 0.84, 't-bud': 0.79 },
  pear: { 'whip-and-tongue': 0.81, cleft: 0.76, splice: 0.72, bark: 0.75, 'chip-bud': 0.8, 't-bud': 0.75 },
  quince: { 'whip-and-tongue': 0.78, cleft: 0.72, 'chip-bud': 0.74, 'hardwood-cutting': 0.4 },
  medlar: { 'whip-and-tongue': 0.74, cleft: 0.7, 'chip-bud': 0.7 },
  plum: { 'whip-and-tongue': 0.68, cleft: 0.63, splice: 0.56, bark: 0.6, 'chip-bud': 0.76, 't-bud': 0.7 },
  cherry: { 'whip-and-tongue': 0.62, cleft: 0.55, 'chip-bud': 0.72, 't-bud': 0.64 },
  peach: { 'whip-and-tongue': 0.4, cleft: 0.36, 'chip-bud': 0.58, 't-bud': 0.66 },
  apricot: { 'whip-and-tongue': 0.44, cleft: 0.38, 'chip-bud': 0.56, 't-bud': 0.6 },
  fig: { 'hardwood-cutting': 0.74 },
  mulberry: { 'whip-and-tongue': 0.5, 'hardwood-cutting': 0.26 },
  currant: { 'hardwood-cutting': 0.9 },
  gooseberry: { 'hardwood-cutting': 0.62 },
  grape: { 'hardwood-cutting': 0.76 },
  walnut: { 'whip-and-tongue': 0.34, bark: 0.3 },
  hazel: { 'whip-and-tongue': 0.4 },
}

/** What hands add, in log-odds. */
const handsEffect: Readonly<Record<Hands, number>> = {
  first_ten: -0.75,
  ten_to_hundred: 0,
  over_hundred: 0.35,
}

/** What a variety adds, in log-odds; those not named add nothing. */
export const varietyEffect: Readonly<Record<string, number>> = {
  'Egremont Russet': 0.45,
  "Bramley's Seedling": 0.4,
  'Annie Elizabeth': 0.35,
  "Ashmead's Kernel": 0.2,
  "D'Arcy Spice": -0.5,
  'Court Pendu Plat': 0.1,
  "Cox's Orange Pippin": -0.35,
  'Beurré Superfin': 0.1,
  'Joséphine de Malines': -0.2,
  'Shropshire Prune': 0.35,
  'Mirabelle de Nancy': -0.25,
  'Reine Claude Verte': -0.55,
  Victoria: 0.3,
  'Desert King': 0.3,
}

/** Log-odds lost for each week that the wood is older than eight. */
const ageEffectPerWeek = -0.12
const ageFreeWeeks = 8

/** Standard deviation, in log-odds, of what one day by one pair of hands adds to all its pieces. */
const batchSpread = 0.45

interface Treatment {
  readonly crops: readonly Crop[]
  readonly method: MethodKey
  readonly name: string
  readonly effect: number
  /** How often a grower of that crop does it. */
  readonly share: number
}

/** What sets some batches apart, and what it adds in log-odds. */
export const treatments: readonly Treatment[] = [
  { crops: ['fig'], method: 'hardwood-cutting', name: 'cups, bottom heat 24 °C', effect: 0.7, share: 0.5 },
  { crops: ['fig'], method: 'hardwood-cutting', name: 'open bed', effect: -0.5, share: 0.3 },
  {
    crops: ['currant', 'gooseberry'],
    method: 'hardwood-cutting',
    name: 'long, planted at once',
    effect: 0.3,
    share: 0.5,
  },
  {
    crops: ['currant', 'gooseberry'],
    method: 'hardwood-cutting',
    name: 'short, in pots',
    effect: -0.3,
    share: 0.3,
  },
  {
    crops: ['hazel', 'walnut'],
    method: 'whip-and-tongue',
    name: 'whole scion waxed',
    effect: 1.1,
    share: 0.5,
  },
]

/** Chance that a living piece dies between one look and the next. */
export const laterDeath = { summer: 0.07, leafFall: 0.05, secondSpring: 0.04 } as const

/** Pairs that part late, whatever the craft: chance that a living piece fails by its second spring. */
export const lateFailures: readonly {
  readonly variety: string
  readonly stock: string
  readonly chance: number
}[] = [
  { variety: 'Reine Claude Verte', stock: 'Myrobalan B', chance: 0.5 },
  { variety: "Williams' Bon Chrétien", stock: 'Quince A', chance: 0.4 },
]

/** Why the dead died, as far as growers say; the weights of an early and of a later death. */
export const causeWeights: Readonly<
  Record<'early' | 'later', readonly (readonly [FailureCauseKey, number])[]>
> = {
  early: [
    ['dried-wood', 5],
    ['mismatch', 5],
    ['cause-unknown', 5],
    ['mould', 2],
    ['woke-early', 2],
    ['heat-or-cold', 3],
    ['knock-or-animal', 3],
  ],
  later: [
    ['knock-or-animal', 4],
    ['heat-or-cold', 4],
    ['girdled', 2],
    ['cause-unknown', 4],
    ['disease', 1],
  ],
}

/** How well people report: which share of attempts is ever looked at, and of looks says why pieces died. */
export const reporting = {
  everLookedAt: 0.84,
  eachLaterLook: 0.6,
  namesCauses: 0.6,
  labelLost: 0.06,
} as const

const logit = (p: number) => Math.log(p / (1 - p))
const logistic = (x: number) => 1 / (1 + Math.exp(-x))

export interface Batch {
  readonly crop: Crop
  readonly method: MethodKey
  readonly treatment: string | null
  readonly variety: string
  readonly hands: Hands
  /** Days from cutting to the day it was made. */
  readonly woodAgeDays: number
  /** The draw of this day and these hands, in standard deviations. */
  readonly luck: number
}

/** The chance that one piece of a batch is alive at its first look. Throws where no method of that crop is known. */
export function trueTake(batch: Batch): number {
  const rate = takeRate[batch.crop][batch.method]
  if (rate === undefined) throw new Error(`The truth says nothing of ${batch.method} for ${batch.crop}`)
  const treatment = treatments.find(
    (known) =>
      known.name === batch.treatment && known.method === batch.method && known.crops.includes(batch.crop),
  )
  const lateWeeks = Math.max(0, batch.woodAgeDays / 7 - ageFreeWeeks)
  return logistic(
    logit(rate) +
      (varietyEffect[batch.variety] ?? 0) +
      handsEffect[batch.hands] +
      (treatment?.effect ?? 0) +
      ageEffectPerWeek * lateWeeks +
      batchSpread * batch.luck,
  )
}
