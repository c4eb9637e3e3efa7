import { callusTemperature } from '#lib/grafting/callus-temperature.ts'
import { type FactBasis, findMethod, type Method, type MethodKey } from '#lib/grafting/methods.ts'
import { type Hemisphere, northernMonth } from '#lib/grafting/season.ts'
import { required } from '#lib/kernel/assert.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { StorageProfileKey } from '#lib/viability/storage-profiles.ts'

/** The wood on the day: buds at rest (BBCH 00), swelling or further (01 and more), or shoots in leaf. */
export type WoodState = 'dormant' | 'moving' | 'in-leaf' | 'unknown'

/** What somebody means to do. Whatever is not known is null, and warns of nothing. */
export interface MethodQuestion {
  readonly method: MethodKey
  /** The storage group of the plant, which stands for its crop; null when it has none. */
  readonly crop: StorageProfileKey | null
  readonly madeOn: CivilDate
  readonly hemisphere: Hemisphere
  readonly wood: WoodState
  /** Whether the bark of the stock lifts freely. */
  readonly barkSlips: boolean | null
  /** What the joined pieces will have around them in the days after, °C; at the base for cuttings. */
  readonly celsius: number | null
  /** Nodes of each cutting. */
  readonly nodes: number | null
}

export interface MethodWarning {
  readonly kind:
    | 'bark-must-slip'
    | 'check-that-bark-slips'
    | 'wood-must-rest'
    | 'wood-is-moving'
    | 'wood-must-be-in-leaf'
    | 'out-of-season'
    | 'wait-for-leaf'
    | 'too-cold'
    | 'too-warm'
    | 'few-nodes'
    | 'ask-the-authority'
  readonly words: string
  readonly basis: FactBasis
}

const commonPractice: FactBasis = 'common practice, no source'

/** Crops whose stocks bleed when they are cut early, and are grafted once the host is in leaf. */
const graftedLate: readonly StorageProfileKey[] = [
  'persimmon',
  'walnut',
  'pecan',
  'mulberry',
  'grape',
  'kiwifruit',
]

function barkWarning({ needs }: Method, barkSlips: boolean | null): MethodWarning | null {
  if (!needs.slippingBark || barkSlips === true) return null
  return barkSlips === null
    ? {
        kind: 'check-that-bark-slips',
        words:
          'The bark of the stock must lift freely for this. Try it with the knife before you cut the scion.',
        basis: needs.basis,
      }
    : {
        kind: 'bark-must-slip',
        words:
          'The bark of the stock does not lift yet. Wait until it does, or choose a method that needs no lifting, such as a cleft or a chip bud.',
        basis: needs.basis,
      }
}

function woodWarning({ needs }: Method, wood: WoodState): MethodWarning | null {
  if (needs.wood === 'dormant' && wood === 'in-leaf') {
    return {
      kind: 'wood-must-rest',
      words:
        'This is done with wood at rest. Wood in leaf dries before it knits; a bud of it may still be set.',
      basis: needs.basis,
    }
  }
  if (needs.wood === 'dormant' && wood === 'moving') {
    return {
      kind: 'wood-is-moving',
      words:
        'The buds have begun to swell. Such wood can fail for want of reserves: use it at once, and use the buds that moved least.',
      basis: commonPractice,
    }
  }
  if (needs.wood === 'in-leaf' && (wood === 'dormant' || wood === 'moving')) {
    return {
      kind: 'wood-must-be-in-leaf',
      words: 'This is done with this year’s shoots in leaf. For wood at rest choose a hardwood cutting.',
      basis: needs.basis,
    }
  }
  return null
}

function seasonWarning(method: Method, { crop, madeOn, hemisphere }: MethodQuestion): MethodWarning | null {
  const month = northernMonth(madeOn, hemisphere)
  if (!method.season.months.includes(month)) {
    return {
      kind: 'out-of-season',
      words: 'This is not the usual time of year for this method. It may still go; write down how it went.',
      basis: method.season.basis,
    }
  }
  const isEarly = month <= 3 || month >= 11
  if (method.kind === 'graft' && isEarly && crop !== null && graftedLate.includes(crop)) {
    return {
      kind: 'wait-for-leaf',
      words:
        'In place, this crop is grafted late, once the host is in leaf: cut early it bleeds. On the bench, keep it warm.',
      basis: commonPractice,
    }
  }
  return null
}

function warmthWarning(method: Method, { crop, celsius }: MethodQuestion): MethodWarning | null {
  const good = crop === null ? null : callusTemperature(crop, method.kind)
  if (good === null || celsius === null) return null
  const range = `${good.lowC} to ${good.highC} °C`
  if (celsius < good.lowC) {
    return {
      kind: 'too-cold',
      words: `Cooler than the ${range} at which this crop is said to knit.`,
      basis: good.basis,
    }
  }
  return celsius > good.highC
    ? {
        kind: 'too-warm',
        words: `Warmer than the ${range} at which this crop is said to knit.`,
        basis: good.basis,
      }
    : null
}

function nodesWarning({ cutting }: Method, nodes: number | null): MethodWarning | null {
  if (!cutting || cutting.leastNodes === null || nodes === null || nodes >= cutting.leastNodes) return null
  return {
    kind: 'few-nodes',
    words: `A cutting of this kind usually has ${cutting.leastNodes} nodes or more.`,
    basis: cutting.basis,
  }
}

const citrusWarning = (crop: StorageProfileKey | null): MethodWarning | null =>
  crop === 'citrus_budwood'
    ? {
        kind: 'ask-the-authority',
        words:
          'Citrus diseases travel in wood, and many places forbid moving or grafting it from unapproved trees. Check with your agricultural authority first.',
        basis: commonPractice,
      }
    : null

/**
 * What to think of before a graft, cutting or layer is made. Warnings only: growers do most of these things now
 * and then, and what comes of it is worth recording. An unknown method throws.
 */
export function methodWarnings(question: MethodQuestion): readonly MethodWarning[] {
  const method: Method = required(findMethod(question.method), `method ${question.method}`)
  return [
    citrusWarning(question.crop),
    barkWarning(method, question.barkSlips),
    woodWarning(method, question.wood),
    seasonWarning(method, question),
    warmthWarning(method, question),
    nodesWarning(method, question.nodes),
  ].filter((warning) => warning !== null)
}
