import type { FactBasis } from '#lib/grafting/methods.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

/** Other advice, which stands beside a task. */
export interface OtherAdvice {
  readonly says: string
  readonly basis: FactBasis
}

/** Something to do for a graft, cutting or layer, and when. */
export interface CareTask {
  /** The same for the same piece of work whenever the schedule is made: `rub-shoots-3`. */
  readonly id: string
  readonly title: string
  readonly words: string
  /** The first day on which it makes sense. */
  readonly openFrom: CivilDate
  readonly dueOn: CivilDate
  /** The first day on which it is late. */
  readonly overdueFrom: CivilDate
  /** Being late may kill: shown strongly. */
  readonly isStrongWhenOverdue: boolean
  readonly basis: FactBasis
  readonly otherAdvice: readonly OtherAdvice[]
}

type Words = Omit<CareTask, 'id' | 'openFrom' | 'dueOn' | 'overdueFrom'>

const commonPractice: FactBasis = 'common practice, no source'

const homeOrchard: FactBasis = { source: 'Home Orchard Education Center, newly grafted tree aftercare' }
const pecanGrower: FactBasis = { source: 'A pecan grower’s notes from the United States, 2012–2017' }
const growers: FactBasis = { source: 'Growers’ forums (growers’ reports, no research)' }

const tieAdvice: readonly OtherAdvice[] = [
  {
    says: 'Preferably 3 to 4 months, and up to a year.',
    basis: { source: 'Texas A&M AgriLife, whip graft guide, step 10' },
  },
  { says: 'In the middle or towards the end of summer.', basis: growers },
  { says: 'Rubber with tape over it can strangle.', basis: growers },
]

const task = (
  title: string,
  words: string,
  basis: FactBasis = commonPractice,
  otherAdvice: readonly OtherAdvice[] = [],
): Words => ({ title, words, basis, otherAdvice, isStrongWhenOverdue: false })

/** The words of each task. Every one can be done, put off with a reason, or marked as not needed. */
export const careTasks = {
  label: task(
    'Label it and put it on the map',
    'A label that lasts, a line on the tree’s list of limbs, a photo, and the rootstock written down.',
    homeOrchard,
  ),
  moveLabel: task(
    'Count survivors, move the label',
    'Hang the label off growing wood, loosely, before it strangles or is pruned away.',
    commonPractice,
    [
      {
        says: 'Pencil on aluminium, on a loose wire, on a limb that will not be pruned.',
        basis: { source: 'A tree-crops association’s page on labelling trees' },
      },
    ],
  ),
  inspectTie: task(
    'Look at the tie',
    'Is it cutting in? Do not peel it. Release it, or put it off with a reason.',
    commonPractice,
    tieAdvice,
  ),
  releaseTie: task(
    'Release the tie',
    'Slit it lengthwise on the side away from the scion and let it fall. Cut away from yourself and from the scion.',
    commonPractice,
    tieAdvice,
  ),
  inspectBudTie: task(
    'Look at the tie of the bud',
    'Is it cutting in? Buds are released sooner than grafts.',
  ),
  releaseBudTie: task(
    'Release the tie of the bud',
    'Slit it on the side away from the bud and let it fall. Cut away from yourself.',
    commonPractice,
    tieAdvice,
  ),
  rubShoots: task(
    'Rub off shoots below the union',
    'Shoots of the stock take what the scion needs. Tie the scion to its stake again while you are there.',
    pecanGrower,
    [{ says: 'Keep a few leaves of the stock until the scion grows.', basis: growers }],
  ),
  protectBark: task(
    'Keep the sun off bared bark',
    'Paint cut-back limbs and stumps with white water-based indoor paint, thinned one to one with water.',
    { source: 'University of California IPM, sunburn of trees (leaflet r8101611)' },
  ),
  coverUnion: task(
    'Cover the union again after unwrapping',
    'Callus that grew in the dark scalds in the sun: wrap foil round it.',
    pecanGrower,
  ),
  wean: task(
    'Begin to wean the approach graft',
    'Notch the scion below the union, a little deeper each week.',
    commonPractice,
    [{ says: 'Some growers wait far longer.', basis: growers }],
  ),
  sever: task(
    'Cut the approach graft free',
    'Finish the cut below the union, and take the top off the stock.',
    commonPractice,
    [{ says: 'Some growers wait far longer.', basis: growers }],
  ),
  forceBud: task(
    'Cut the stock above the bud',
    'So that the bud is the one that grows. Slope the cut away from it.',
  ),
} as const satisfies Readonly<Record<string, Words>>
