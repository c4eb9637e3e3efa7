import { findMethod } from '#lib/grafting/methods.ts'
import type { AttemptHint, LimbView } from '#lib/trees/view.ts'

const centimetresPerInch = 2.54

/** The first letter that no limb of a tree has. */
export function freeMark(taken: readonly string[]): string {
  const letters = Array.from({ length: 26 }, (_, i) => String.fromCharCode(65 + i))
  return letters.find((letter) => !taken.includes(letter)) ?? ''
}

/** What the limb fields hold at first, by their names behind `prefix`. */
export function newLimbValues(prefix: string, mark: string, hint: AttemptHint | null, varietyId = '') {
  return {
    [`${prefix}mark`]: mark,
    [`${prefix}varietyId`]: hint?.varietyId ?? varietyId,
    [`${prefix}origin`]: hint ? originOf(hint) : 'own',
    [`${prefix}identity`]: hint ? 'donor_word' : 'unknown',
  }
}

/** A graft sits on another tree; a cutting or layer that rooted is a plant of its own. */
const originOf = (hint: AttemptHint): 'own' | 'grafted' =>
  findMethod(hint.method)?.kind === 'graft' ? 'grafted' : 'own'

/** The recorded attempt as the limb fields carry it along. */
export const fromHint = (hint: AttemptHint | null) =>
  hint && { attemptId: hint.attemptId, varietyId: hint.varietyId, origin: originOf(hint) }

/** What is written about a limb, for its form. */
export const limbValues = (limb: LimbView) => ({
  mark: limb.mark,
  varietyId: limb.variety?.id ?? '',
  origin: limb.origin,
  identity: limb.identity,
  heightCm: limb.heightCm === null ? '' : String(limb.heightCm),
  heightInches:
    limb.heightCm === null ? '' : String(Math.round((limb.heightCm / centimetresPerInch) * 2) / 2),
  side: limb.side ?? '',
  seenInLeafOn: limb.seenInLeafOn ?? '',
  healthNote: limb.healthNote ?? '',
})
