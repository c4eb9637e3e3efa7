export type MethodKind = 'graft' | 'cutting' | 'layer'

/** What a fact leans on: a source by citation, or what growers commonly do, for which no source was found. */
export type FactBasis = { readonly source: string } | 'common practice, no source'

/** The state of the wood that is used. */
export type WoodNeed = 'dormant' | 'in-leaf' | 'dormant-or-in-leaf' | 'root' | 'attached-to-its-plant'

/** One way to make a plant of a piece of wood. */
export interface Method {
  readonly key: string
  readonly name: string
  readonly kind: MethodKind
  /** What success is called: "31 of 36 took", "5 of 12 rooted". */
  readonly successWord: 'took' | 'rooted'
  readonly needs: {
    readonly wood: WoodNeed
    /** Whether the bark of the stock must lift freely. */
    readonly slippingBark: boolean
    readonly basis: FactBasis
  }
  /** When it is usually done, as months of the northern year, 1 to 12; the south is six months later. */
  readonly season: { readonly months: readonly number[]; readonly basis: FactBasis }
  /** In a few words: what is joined, and where it suits. */
  readonly meaning: string
  /** For cuttings alone. */
  readonly cutting?: CuttingNeeds
  /** Days after which a first look tells something. */
  readonly firstLook: { readonly afterDays: number; readonly basis: FactBasis }
}

/** What a cutting is made of and how it is kept. */
export interface CuttingNeeds {
  /** The fewest nodes that a piece should have; null for roots, which have none. */
  readonly leastNodes: number | null
  readonly bottomHeat: 'helps' | 'not-needed'
  readonly hormone: 'usual' | 'optional'
  readonly basis: FactBasis
}

/** The usual caution beside every method that uses a knife. */
export const knifeCaution =
  'A grafting knife is as sharp as a razor. Cut away from yourself, keep the other hand behind the blade, wear a cut-resistant glove, and clean the blade between trees.'

const commonPractice: FactBasis = 'common practice, no source'
/** Remembered from Hartmann & Kester, Plant Propagation; the page was not seen. */
const fromMemory: FactBasis = { source: 'Hartmann & Kester, Plant Propagation (from memory, page not seen)' }
const barkMustSlip: FactBasis = {
  source: 'Extension leaflets: Texas A&M (McEachern), Michigan State, New Mexico State H-613',
}
const barkNeedNotSlip: FactBasis = {
  source: 'UF/IFAS Extension; Indian J Hort 2018, doi 10.5958/0974-0112.2018.00055.5',
}
/** Buds move two to four weeks from the graft; looking sooner tempts people to peel the wrap. */
const budsMove: FactBasis = { source: 'Home Orchard Education Center, newly grafted tree aftercare' }

const graft = { kind: 'graft', successWord: 'took' } as const
const cutting = { kind: 'cutting', successWord: 'rooted' } as const
const lateWinter = { months: [1, 2, 3, 4], basis: commonPractice } as const
const springSap = { months: [4, 5, 6], basis: commonPractice } as const
const afterFourWeeks = { afterDays: 28, basis: budsMove } as const
const dormantScion = { wood: 'dormant', slippingBark: false, basis: commonPractice } as const

/** Grafts, buds, cuttings and layers that can be recorded, in the order in which a form lists them. */
export const methods = [
  {
    ...graft,
    key: 'whip-and-tongue',
    name: 'Whip and tongue',
    meaning: 'Matched thicknesses with interlocking tongues; for wood up to a thumb’s width.',
    season: lateWinter,
    needs: { ...dormantScion, basis: fromMemory },
    firstLook: afterFourWeeks,
  },
  {
    ...graft,
    key: 'splice',
    name: 'Splice (whip)',
    meaning: 'Matched thicknesses with long slanting cuts and no tongue.',
    season: lateWinter,
    needs: dormantScion,
    firstLook: afterFourWeeks,
  },
  {
    ...graft,
    key: 'cleft',
    name: 'Cleft',
    meaning: 'A wedge of scion in a split stock; for stocks much thicker than the scion.',
    season: { months: [2, 3, 4, 5], basis: commonPractice },
    needs: { ...dormantScion, basis: fromMemory },
    firstLook: afterFourWeeks,
  },
  {
    ...graft,
    key: 'bark',
    name: 'Bark (rind)',
    meaning: 'A scion under the lifted bark of a thick stock, once the sap is up.',
    season: springSap,
    needs: { wood: 'dormant', slippingBark: true, basis: barkMustSlip },
    firstLook: afterFourWeeks,
  },
  {
    ...graft,
    key: 'saddle',
    name: 'Saddle',
    meaning: 'A stock cut to a wedge under a scion cut to a V, both of one thickness.',
    season: lateWinter,
    needs: dormantScion,
    firstLook: afterFourWeeks,
  },
  {
    ...graft,
    key: 'side-veneer',
    name: 'Side veneer',
    meaning: 'A scion let into the flank of a stock whose top stays on for a while.',
    season: { months: [2, 3, 4, 7, 8, 9], basis: commonPractice },
    needs: dormantScion,
    firstLook: afterFourWeeks,
  },
  {
    ...graft,
    key: 'bridge',
    name: 'Bridge',
    meaning: 'Scions set across a wound to carry sap past it.',
    season: springSap,
    needs: { wood: 'dormant', slippingBark: true, basis: commonPractice },
    firstLook: { afterDays: 28, basis: commonPractice },
  },
  {
    ...graft,
    key: 'approach',
    name: 'Approach (inarch)',
    meaning: 'Both plants stay on their own roots until they have joined; then the scion is cut free.',
    season: { months: [4, 5, 6, 7, 8], basis: commonPractice },
    needs: { wood: 'attached-to-its-plant', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 56, basis: commonPractice },
  },
  {
    ...graft,
    key: 'chip-bud',
    name: 'Chip bud',
    meaning: 'A bud with a chip of wood, set into a matching notch.',
    season: { months: [2, 3, 4, 7, 8, 9], basis: commonPractice },
    needs: { wood: 'dormant-or-in-leaf', slippingBark: false, basis: barkNeedNotSlip },
    firstLook: { afterDays: 28, basis: commonPractice },
  },
  {
    ...graft,
    key: 't-bud',
    name: 'T-bud (shield)',
    meaning: 'A bud on a shield of bark, slid under a T-shaped cut.',
    season: { months: [6, 7, 8, 9], basis: commonPractice },
    needs: { wood: 'dormant-or-in-leaf', slippingBark: true, basis: barkMustSlip },
    firstLook: { afterDays: 28, basis: commonPractice },
  },
  {
    ...graft,
    key: 'patch-bud',
    name: 'Patch bud',
    meaning:
      'A bud on a square of bark, set into a window of the same size; for thick bark such as that of nuts.',
    season: { months: [4, 5, 7, 8, 9], basis: commonPractice },
    needs: { wood: 'dormant-or-in-leaf', slippingBark: true, basis: commonPractice },
    firstLook: { afterDays: 28, basis: commonPractice },
  },
  {
    ...graft,
    key: 'four-flap',
    name: 'Four-flap (banana)',
    meaning:
      'Four strips of the stock’s bark laid up over a scion of the same thickness; for pecan and its kin.',
    season: { months: [4, 5], basis: commonPractice },
    needs: { wood: 'dormant', slippingBark: true, basis: commonPractice },
    firstLook: afterFourWeeks,
  },
  {
    ...cutting,
    key: 'hardwood-cutting',
    name: 'Hardwood cutting',
    meaning: 'A piece of ripe, leafless shoot.',
    season: { months: [10, 11, 12, 1, 2, 3], basis: commonPractice },
    cutting: { leastNodes: 3, bottomHeat: 'helps', hormone: 'optional', basis: commonPractice },
    needs: dormantScion,
    firstLook: { afterDays: 56, basis: commonPractice },
  },
  {
    ...cutting,
    key: 'semi-hardwood-cutting',
    name: 'Semi-hardwood cutting',
    meaning: 'This year’s shoot, firm at its base, with leaves on.',
    season: { months: [7, 8, 9], basis: commonPractice },
    cutting: { leastNodes: 3, bottomHeat: 'helps', hormone: 'usual', basis: commonPractice },
    needs: { wood: 'in-leaf', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 42, basis: commonPractice },
  },
  {
    ...cutting,
    key: 'softwood-cutting',
    name: 'Softwood cutting',
    meaning: 'The green tip of a growing shoot.',
    season: { months: [4, 5, 6, 7], basis: commonPractice },
    cutting: { leastNodes: 2, bottomHeat: 'helps', hormone: 'usual', basis: commonPractice },
    needs: { wood: 'in-leaf', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 28, basis: commonPractice },
  },
  {
    ...cutting,
    key: 'root-cutting',
    name: 'Root cutting',
    meaning: 'A piece of root that makes shoots of its own.',
    season: { months: [11, 12, 1, 2], basis: commonPractice },
    cutting: { leastNodes: null, bottomHeat: 'not-needed', hormone: 'optional', basis: commonPractice },
    needs: { wood: 'root', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 56, basis: commonPractice },
  },
  {
    key: 'air-layer',
    name: 'Air layer',
    meaning: 'A shoot that roots in a wrap while it is still on its plant.',
    season: { months: [4, 5, 6, 7, 8], basis: commonPractice },
    kind: 'layer',
    successWord: 'rooted',
    needs: { wood: 'attached-to-its-plant', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 56, basis: commonPractice },
  },
  {
    key: 'ground-layer',
    name: 'Layer in the ground',
    kind: 'layer',
    successWord: 'rooted',
    meaning: 'A shoot bent down or earthed up, which roots in the soil while it is still on its plant.',
    season: { months: [2, 3, 4, 5, 6, 7, 8, 9], basis: commonPractice },
    needs: { wood: 'attached-to-its-plant', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 84, basis: commonPractice },
  },
] as const satisfies readonly Method[]

export type MethodKey = (typeof methods)[number]['key']

/** The method of a key; null when there is none. */
export function findMethod(key: string): (Method & { readonly key: MethodKey }) | null {
  return methods.find((method) => method.key === key) ?? null
}
