import { required } from '#lib/kernel/assert.ts'

/** How a name is known, the surest first; the values of a limb's record. */
export const nameGrades = ['dna', 'expert', 'fruited_true', 'nursery_tag', 'donor_word', 'unknown'] as const

export type NameGrade = (typeof nameGrades)[number]

/** What is said of a first fruit. */
export type FruitAnswer = 'true' | 'not-true' | 'unsure'

export interface LineageLimb {
  readonly limbId: string
  readonly keeperId: string
  readonly grade: NameGrade
  /** The lot it was grafted or rooted from; null for own wood, and where nothing is known. */
  readonly fromLotId: string | null
  /** The limb its wood came from; null when it was planted as bought, or nothing is known. */
  readonly fromLimbId: string | null
}

/** Somebody who got wood of a lot, whatever became of it. */
export interface LotHolder {
  readonly lotId: string
  /** The limb that the lot was cut from. */
  readonly limbId: string
  readonly memberId: string
}

export interface Lineage {
  readonly limbs: readonly LineageLimb[]
  readonly holders: readonly LotHolder[]
}

export type SpreadRole = 'fruited' | 'donor' | 'descendant'

export interface SpreadLimb {
  readonly limbId: string
  readonly keeperId: string
  readonly role: SpreadRole
  /** Steps of wood from the limb that fruited: up to the donors, then down again. */
  readonly distance: number
  readonly was: NameGrade
  readonly becomes: NameGrade
  /** Its own evidence speaks for the name, so it keeps its grade; its keeper is told all the same. */
  readonly stands: boolean
}

export interface IdentitySpread {
  readonly limbs: readonly SpreadLimb[]
  /** Lots whose name is in doubt. */
  readonly lotIds: readonly string[]
  /** Everybody to tell, each once. */
  readonly memberIds: readonly string[]
}

const evidence: readonly NameGrade[] = ['dna', 'expert', 'fruited_true']

const hasEvidence = ({ grade }: LineageLimb) => evidence.includes(grade)

/** The grade of the limb that fruited. “True” lifts it unless something surer is known; “unsure” changes nothing. */
export function gradeAfterFruit(answer: FruitAnswer, was: NameGrade): NameGrade {
  if (answer === 'unsure') return was
  if (answer === 'not-true') return 'unknown'
  return nameGrades.indexOf(was) < nameGrades.indexOf('fruited_true') ? was : 'fruited_true'
}

interface Family {
  readonly limbOf: ReadonlyMap<string, LineageLimb>
  readonly childrenOf: ReadonlyMap<string, readonly LineageLimb[]>
}

function familyOf({ limbs }: Lineage): Family {
  const childrenOf = new Map<string, LineageLimb[]>()
  for (const limb of limbs) {
    if (limb.fromLimbId === null) continue
    const children = childrenOf.get(limb.fromLimbId)
    if (children) children.push(limb)
    else childrenOf.set(limb.fromLimbId, [limb])
  }
  return { limbOf: new Map(limbs.map((limb) => [limb.limbId, limb])), childrenOf }
}

/** Wood of a limb: one lot of it, or all of it (`lotId` null). */
interface DoubtedWood {
  readonly limbId: string
  readonly lotId: string | null
  readonly distance: number
}

/**
 * Up from the limb that fruited, from donor to donor, for as long as nothing speaks for the donor's name. A donor
 * with evidence of its own stands: then the mistake was made on the way, and only the lot that was shared is in doubt.
 */
function upward(start: LineageLimb, { limbOf }: Family) {
  const donors: SpreadLimb[] = []
  const doubted: DoubtedWood[] = [{ limbId: start.limbId, lotId: null, distance: 0 }]
  const seen = new Set([start.limbId])
  let child = start
  for (let distance = 1; child.fromLimbId !== null && !seen.has(child.fromLimbId); distance += 1) {
    const donor = limbOf.get(child.fromLimbId)
    if (!donor) break
    seen.add(donor.limbId)
    const stands = hasEvidence(donor)
    const { limbId, keeperId, grade } = donor
    donors.push({
      limbId,
      keeperId,
      role: 'donor',
      distance,
      was: grade,
      becomes: stands ? grade : 'unknown',
      stands,
    })
    if (stands && child.fromLotId !== null) doubted.push({ limbId, lotId: child.fromLotId, distance })
    if (!stands) doubted.push({ limbId, lotId: null, distance })
    if (stands) break
    child = donor
  }
  return { donors, doubted }
}

/** Down from wood in doubt, to every limb made of it, stopping below a limb that has evidence of its own. */
function downward(doubted: readonly DoubtedWood[], { childrenOf }: Family, known: ReadonlySet<string>) {
  const reached = new Map<string, SpreadLimb>()
  const wood = [...doubted]
  // Grows while it is walked: wood of each limb that falls is in doubt too.
  for (const { limbId: parentId, lotId, distance: above } of wood) {
    for (const child of childrenOf.get(parentId) ?? []) {
      const { limbId, keeperId, fromLotId, grade } = child
      if (known.has(limbId) || reached.has(limbId) || (lotId !== null && fromLotId !== lotId)) continue
      const stands = hasEvidence(child)
      const distance = above + 1
      const becomes = stands ? grade : 'unknown'
      reached.set(limbId, { limbId, keeperId, role: 'descendant', distance, was: grade, becomes, stands })
      if (!stands) wood.push({ limbId, lotId: null, distance })
    }
  }
  return { descendants: [...reached.values()], wood }
}

/**
 * Where “not true” travels from a limb that bore the wrong fruit: up to its donors, and down to everybody who got
 * that wood, to any depth. A name that leans on a tag, on somebody's word or on nothing falls to `unknown`. A limb
 * with evidence of its own (its fruit, an expert, a DNA test) keeps its grade, and doubt goes no further through it,
 * except into the one lot that it shared with the limb that fruited.
 *
 * @throws when the limb is not part of the lineage.
 */
export function spreadNotTrue(limbId: string, lineage: Lineage): IdentitySpread {
  const family = familyOf(lineage)
  const start = required(family.limbOf.get(limbId), `limb ${limbId} in its lineage`)
  const { donors, doubted } = upward(start, family)
  const known = new Set([limbId, ...donors.map((donor) => donor.limbId)])
  const { descendants, wood } = downward(doubted, family, known)
  const fruited: SpreadLimb = {
    limbId,
    keeperId: start.keeperId,
    role: 'fruited',
    distance: 0,
    was: start.grade,
    becomes: 'unknown',
    stands: false,
  }
  const limbs = [fruited, ...donors, ...descendants]
  const wholeLimbs = new Set(wood.filter(({ lotId }) => lotId === null).map((doubt) => doubt.limbId))
  const singleLots = new Set(wood.map(({ lotId }) => lotId))
  const holders = lineage.holders.filter(
    (holder) => wholeLimbs.has(holder.limbId) || singleLots.has(holder.lotId),
  )
  const lotIds = [
    ...wood.flatMap(({ lotId }) => (lotId === null ? [] : [lotId])),
    ...holders.map(({ lotId }) => lotId),
    ...limbs.flatMap(({ limbId: id }) => lotsBelow(id, wholeLimbs, family)),
  ]
  return {
    limbs,
    lotIds: [...new Set(lotIds)],
    memberIds: [...new Set([...limbs.map(({ keeperId }) => keeperId), ...holders.map((h) => h.memberId)])],
  }
}

/** Lots of a limb all of whose wood is in doubt, as far as limbs were made of them. */
const lotsBelow = (
  limbId: string,
  wholeLimbs: ReadonlySet<string>,
  { childrenOf }: Family,
): readonly string[] =>
  wholeLimbs.has(limbId)
    ? (childrenOf.get(limbId) ?? []).flatMap(({ fromLotId }) => (fromLotId === null ? [] : [fromLotId]))
    : []
