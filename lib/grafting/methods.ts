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
  /** Days after which a first look tells something. */
  readonly firstLook: { readonly afterDays: number; readonly basis: FactBasis }
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
const afterFourWeeks = { afterDays: 28, basis: budsMove } as const
const dormantScion = { wood: 'dormant', slippingBark: false, basis: commonPractice } as const

/** Grafts, buds, cuttings and layers that can be recorded, in the order in which a form lists them. */
export const methods = [
  {
    ...graft,
    key: 'whip-and-tongue',
    name: 'Whip and tongue',
    needs: { ...dormantScion, basis: fromMemory },
    firstLook: afterFourWeeks,
  },
  { ...graft, key: 'splice', name: 'Splice (whip)', needs: dormantScion, firstLook: afterFourWeeks },
  {
    ...graft,
    key: 'cleft',
    name: 'Cleft',
    needs: { ...dormantScion, basis: fromMemory },
    firstLook: afterFourWeeks,
  },
  {
    ...graft,
    key: 'bark',
    name: 'Bark (rind)',
    needs: { wood: 'dormant', slippingBark: true, basis: barkMustSlip },
    firstLook: afterFourWeeks,
  },
  { ...graft, key: 'saddle', name: 'Saddle', needs: dormantScion, firstLook: afterFourWeeks },
  { ...graft, key: 'side-veneer', name: 'Side veneer', needs: dormantScion, firstLook: afterFourWeeks },
  {
    ...graft,
    key: 'bridge',
    name: 'Bridge',
    needs: { wood: 'dormant', slippingBark: true, basis: commonPractice },
    firstLook: { afterDays: 28, basis: commonPractice },
  },
  {
    ...graft,
    key: 'approach',
    name: 'Approach (inarch)',
    needs: { wood: 'attached-to-its-plant', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 56, basis: commonPractice },
  },
  {
    ...graft,
    key: 'chip-bud',
    name: 'Chip bud',
    needs: { wood: 'dormant-or-in-leaf', slippingBark: false, basis: barkNeedNotSlip },
    firstLook: { afterDays: 28, basis: commonPractice },
  },
  {
    ...graft,
    key: 't-bud',
    name: 'T-bud (shield)',
    needs: { wood: 'dormant-or-in-leaf', slippingBark: true, basis: barkMustSlip },
    firstLook: { afterDays: 28, basis: commonPractice },
  },
  {
    ...cutting,
    key: 'hardwood-cutting',
    name: 'Hardwood cutting',
    needs: dormantScion,
    firstLook: { afterDays: 56, basis: commonPractice },
  },
  {
    ...cutting,
    key: 'semi-hardwood-cutting',
    name: 'Semi-hardwood cutting',
    needs: { wood: 'in-leaf', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 42, basis: commonPractice },
  },
  {
    ...cutting,
    key: 'softwood-cutting',
    name: 'Softwood cutting',
    needs: { wood: 'in-leaf', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 28, basis: commonPractice },
  },
  {
    ...cutting,
    key: 'root-cutting',
    name: 'Root cutting',
    needs: { wood: 'root', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 56, basis: commonPractice },
  },
  {
    key: 'air-layer',
    name: 'Air layer',
    kind: 'layer',
    successWord: 'rooted',
    needs: { wood: 'attached-to-its-plant', slippingBark: false, basis: commonPractice },
    firstLook: { afterDays: 56, basis: commonPractice },
  },
] as const satisfies readonly Method[]

export type MethodKey = (typeof methods)[number]['key']

/** The method of a key; null when there is none. */
export function findMethod(key: string): (Method & { readonly key: MethodKey }) | null {
  return methods.find((method) => method.key === key) ?? null
}
