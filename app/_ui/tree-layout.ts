export interface SchematicLimb {
  readonly letter: string
  /** Null where nobody knows it. */
  readonly variety: string | null
  readonly heightM: number | null
  readonly side?: 'left' | 'right'
  readonly direction?: string
  readonly state: 'own' | 'grafted' | 'donor' | 'unnamed' | 'gone'
  /** A donor that is the tree's own wood has no union. */
  readonly isOwn?: boolean
}

export interface TreeShape {
  readonly topM: number
  /** Pixels from the top to the ground. */
  readonly base: number
  readonly yOf: (metres: number) => number
  readonly marksM: readonly number[]
}

export interface PlacedLimb {
  readonly letter: string
  readonly state: SchematicLimb['state']
  readonly outline: string
  readonly join: string | null
  readonly cross: string | null
  readonly bubble: { readonly x: number; readonly y: number }
}

const trunkX = 210
const limbLength = 105
const apart = 29
const skyPx = 40

const sideOf = (limb: SchematicLimb, index: number) => limb.side ?? (index % 2 === 0 ? 'right' : 'left')

function heightsOf(limbs: readonly SchematicLimb[]): number[] {
  const known = limbs.flatMap((limb) => (limb.heightM === null ? [] : [limb.heightM]))
  const highest = Math.max(1.6, ...known)
  // A limb whose height nobody wrote down goes where its place in the list would put it.
  return limbs.map((limb, i) => limb.heightM ?? (highest * (i + 1)) / (limbs.length + 1))
}

/** How tall the drawing is and how metres lie on it; taller where one side has many limbs. */
export function treeShape(limbs: readonly SchematicLimb[]): TreeShape {
  const topM = Math.max(2.6, ...heightsOf(limbs).map((metres) => metres + 0.45))
  const fullest = Math.max(
    ...(['left', 'right'] as const).map((side) => limbs.filter((limb, i) => sideOf(limb, i) === side).length),
  )
  const base = skyPx + Math.max(390, fullest * (apart + 6) + 90)
  const yOf = (metres: number) => base - (metres * (base - skyPx)) / topM
  const step = topM <= 3 ? 0.5 : topM <= 6 ? 1 : 2
  const marksM = Array.from({ length: Math.floor((topM - 0.4) / step) }, (_, i) => (i + 1) * step)
  return { topM, base, yOf, marksM }
}

/** The limbs as outlines, their letters pushed apart where two hang too close. */
export function placeLimbs(limbs: readonly SchematicLimb[], shape: TreeShape): PlacedLimb[] {
  const heights = heightsOf(limbs)
  const wanted = limbs.map((limb, i) => {
    const y = shape.yOf(heights[i] ?? 0)
    return {
      index: i,
      side: sideOf(limb, i),
      y,
      bubbleY: limb.state === 'gone' ? y - 9 : y - limbLength / 2 - 3,
    }
  })
  const bubbleY = new Map<number, number>()
  for (const side of ['left', 'right'] as const) {
    const fromTheGround = wanted.filter((limb) => limb.side === side).sort((a, b) => b.bubbleY - a.bubbleY)
    let ceiling = shape.base - 15
    for (const limb of fromTheGround) {
      const y = Math.min(limb.bubbleY, ceiling)
      bubbleY.set(limb.index, y)
      ceiling = y - apart
    }
  }
  return limbs.map((limb, i) => {
    const place = wanted[i]
    const y = place?.y ?? 0
    const direction = place?.side === 'left' ? -1 : 1
    return limb.state === 'gone'
      ? goneLimb(limb, y, direction, bubbleY.get(i) ?? y)
      : standingLimb(limb, y, direction, bubbleY.get(i) ?? y)
  })
}

const n = (value: number) => Number(value.toFixed(1))

function goneLimb(limb: SchematicLimb, y: number, direction: number, bubbleY: number): PlacedLimb {
  return {
    letter: limb.letter,
    state: limb.state,
    outline: `M${trunkX} ${n(y - 4)}L${trunkX + direction * 20} ${n(y - 11)}L${trunkX + direction * 23} ${n(y - 3)}L${trunkX} ${n(y + 6)}z`,
    join: null,
    cross: `M${trunkX + direction * 33 - 5} ${n(y - 14)}l10 10m0-10l-10 10`,
    bubble: { x: trunkX + direction * 57, y: n(bubbleY) },
  }
}

// A tapering, upswept limb; a union is a paper-coloured nick cut on the slant.
function standingLimb(limb: SchematicLimb, y: number, direction: number, bubbleY: number): PlacedLimb {
  const isOwn = limb.state === 'own' || limb.isOwn === true
  const girth = isOwn ? 6 : 4.6
  const endX = trunkX + direction * limbLength
  const endY = bubbleY + 3
  const midX = trunkX + direction * limbLength * 0.5
  const midY = y - (y - endY) * 0.24
  const t = 0.27
  const joinX = (1 - t) ** 2 * trunkX + 2 * t * (1 - t) * midX + t * t * endX
  const joinY = (1 - t) ** 2 * (y + 1) + 2 * t * (1 - t) * midY + t * t * endY
  return {
    letter: limb.letter,
    state: limb.state,
    outline: `M${trunkX} ${n(y - girth)}Q${n(midX)} ${n(midY - girth)} ${n(endX)} ${n(endY - 1.2)}L${n(endX + direction * 1.4)} ${n(endY + 1.4)}Q${n(midX + direction * 3)} ${n(midY + girth - 1)} ${trunkX} ${n(y + girth + 3)}z`,
    join:
      isOwn || limb.state === 'unnamed'
        ? null
        : `M${n(joinX - direction * 6)} ${n(joinY - 12)}L${n(joinX + direction * 5)} ${n(joinY + 12)}`,
    cross: null,
    bubble: { x: endX + direction * 18, y: n(bubbleY) },
  }
}
