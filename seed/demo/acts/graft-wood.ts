import type { Actor } from '#lib/access/actor.ts'
import { RecordAttemptInput } from '#lib/attempts/input.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import type { MethodKey } from '#lib/grafting/methods.ts'
import { required } from '#lib/kernel/assert.ts'
import { addDays, type CivilDate, civilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import type { Random } from '#lib/kernel/seeded-random.ts'
import { between, type Season } from '#seed/demo/calendar.ts'
import { rootstocks } from '#seed/demo/data/trees.ts'
import {
  type CutLot,
  type GrownLimb,
  type GrownVariety,
  mustWork,
  type Person,
  pickByWeight,
  type Received,
  type Simulation,
  scribeOf,
  severalAtOnce,
  type World,
} from '#seed/demo/simulation.ts'
import { type Crop, takeRate, treatments } from '#seed/demo/truth.ts'

/** What somebody made of some wood, before it is written down. */
export interface PlannedGraft {
  readonly grower: Person
  readonly variety: GrownVariety
  readonly limb: GrownLimb
  /** Null for wood that never became a lot. */
  readonly lot: CutLot | null
  readonly sticks: number
  readonly pieces: number
  readonly method: MethodKey
  readonly treatment: string | null
  readonly stock: string | null
  readonly host: GrownLimb | null
  readonly madeOn: CivilDate
  readonly writtenOn: CivilDate
  readonly woodAgeDays: number
  readonly note?: string
}

export interface MadeGraft extends PlannedGraft {
  readonly attemptId: string
}

/** Days after the swap between which a crop is grafted or stuck: cuttings at once, stone fruit early, nuts late. */
const graftingDays: Readonly<Record<Crop, readonly [number, number]>> = {
  apple: [18, 66],
  pear: [18, 62],
  quince: [18, 50],
  medlar: [20, 55],
  plum: [12, 42],
  cherry: [14, 44],
  peach: [48, 78],
  apricot: [44, 74],
  fig: [2, 30],
  mulberry: [10, 40],
  currant: [1, 12],
  gooseberry: [1, 14],
  grape: [4, 30],
  walnut: [62, 82],
  hazel: [40, 60],
}

const barkSlipsFrom = '04-12'

/** How often a grafter reaches for each method, whatever the crop; only those that the truth knows count. */
const habit: readonly (readonly [MethodKey, number])[] = [
  ['whip-and-tongue', 50],
  ['cleft', 30],
  ['splice', 8],
  ['bark', 14],
  ['chip-bud', 9],
  ['hardwood-cutting', 40],
]

function methodFor(random: Random, crop: Crop, madeOn: CivilDate): MethodKey {
  const known = habit.filter(
    ([method]) =>
      takeRate[crop][method] !== undefined && (method !== 'bark' || madeOn.slice(5) >= barkSlipsFrom),
  )
  return pickByWeight(random, known)
}

function treatmentFor(random: Random, crop: Crop, method: MethodKey): string | null {
  const usual = treatments.filter((known) => known.crops.includes(crop) && known.method === method)
  let left = random.next()
  for (const { name, share } of usual) {
    left -= share
    if (left < 0) return name
  }
  return null
}

/** The trees whose limbs are counted elsewhere, or that are left alone. */
const isHost = (limb: GrownLimb) => !limb.place.startsWith('Marrow Lane plot')

/** Cleft and bark go onto standing trees, the rest mostly onto bought stocks. */
function whereTo(random: Random, world: World, grower: Person, crop: Crop, method: MethodKey) {
  const stocks = rootstocks[crop]
  if (method === 'hardwood-cutting' || stocks.length === 0) return { stock: null, host: null }
  const own = world.limbs.filter(
    (limb) => limb.keeper.key === grower.key && limb.crop === crop && isHost(limb),
  )
  const ontoTree = method === 'cleft' || method === 'bark' ? 0.7 : 0.2
  if (own.length > 0 && random.chance(ontoTree)) return { stock: null, host: random.pick(own) }
  return { stock: random.pick(stocks), host: null }
}

interface Wood {
  readonly grower: Person
  readonly lot: CutLot
  readonly sticks: number
}

function planGraft(
  random: Random,
  world: World,
  season: Season,
  { grower, lot, sticks }: Wood,
): PlannedGraft {
  const { limb } = lot
  const variety = required(limb.variety, 'the variety of wood that was given')
  const [first, last] = graftingDays[limb.crop]
  const madeOn = addDays(season.heldOn, random.integer(first, last))
  const method = methodFor(random, limb.crop, madeOn)
  const isCutting = method === 'hardwood-cutting'
  return {
    grower,
    variety,
    limb,
    lot,
    sticks,
    pieces: sticks * random.integer(1, isCutting ? 2 : 3),
    method,
    treatment: treatmentFor(random, limb.crop, method),
    ...whereTo(random, world, grower, limb.crop, method),
    madeOn,
    writtenOn: addDays(madeOn, random.integer(0, 3)),
    woodAgeDays: daysBetween(lot.cutOn, madeOn),
  }
}

/** What is made of the wood that went home from a swap. Some is never used, and some of it for two methods. */
function planReceived(random: Random, world: World, season: Season, received: readonly Received[]) {
  const plans: PlannedGraft[] = []
  const unused: Received[] = []
  for (const { lot, person, sticks, on } of received) {
    const isSure = person.key === 'wren' || lot.limb.graftsBehind > 0
    if (!isSure && random.chance(0.16)) {
      unused.push({ lot, person, sticks, on })
      continue
    }
    const half = sticks >= 2 && random.chance(0.25) ? Math.floor(sticks / 2) : 0
    for (const part of [sticks - half, half].filter((count) => count > 0))
      plans.push(planGraft(random, world, season, { grower: person, lot, sticks: part }))
  }
  return { plans, unused }
}

/** Keepers graft from their own bags as well, before the rest is cleared out. */
function planOwnBags(random: Random, world: World, season: Season, lots: readonly CutLot[]): PlannedGraft[] {
  return random
    .shuffle(lots.filter((lot) => lot.inStore >= 2 && lot.limb.variety !== null))
    .slice(0, 15)
    .map((lot) => {
      const sticks = Math.min(lot.inStore, random.integer(1, 3))
      return planGraft(random, world, season, { grower: lot.limb.keeper, lot, sticks })
    })
}

/** In July and August people bud from their own trees; this wood is used within the hour and never becomes a lot. */
function planSummerBuds(random: Random, world: World, season: Season, yesterday: CivilDate): PlannedGraft[] {
  const year = season.heldOn.slice(0, 4)
  const buddable = world.limbs.filter(
    (limb) => limb.variety !== null && takeRate[limb.crop]['chip-bud'] !== undefined,
  )
  return Array.from({ length: 16 }, () => {
    const limb = random.pick(buddable)
    const variety = required(limb.variety, 'the variety of a limb with a name')
    const madeOn = between(civilDate(`${year}-07-18`), civilDate(`${year}-08-24`), random.next())
    const canT = takeRate[limb.crop]['t-bud'] !== undefined
    return {
      grower: limb.keeper,
      variety,
      limb,
      lot: null,
      sticks: 0,
      pieces: random.integer(2, 6),
      method: canT && random.chance(0.45) ? ('t-bud' as const) : ('chip-bud' as const),
      treatment: null,
      stock: random.pick(rootstocks[limb.crop]),
      host: null,
      madeOn,
      writtenOn: addDays(madeOn, 1),
      woodAgeDays: 0,
    }
  }).filter(({ writtenOn }) => writtenOn <= yesterday)
}

/** Writes one batch down for its grower; `scribe` holds the pen when it is not their own. */
export async function writeGraft(
  sim: Simulation,
  world: World,
  plan: PlannedGraft,
  scribe: Actor = scribeOf(world, plan.grower),
): Promise<MadeGraft> {
  const { lot, host, grower } = plan
  const input = RecordAttemptInput.parse({
    key: sim.db.newId(),
    growerId: grower.memberId,
    source: lot ? 'lot' : 'own',
    lotId: lot?.lotId,
    fromLimbId: lot ? undefined : plan.limb.limbId,
    method: plan.method,
    treatment: plan.treatment,
    stock: plan.stock,
    hostTreeId: host?.treeId,
    madeOn: plan.madeOn,
    pieces: plan.pieces,
    sticksUsed: lot ? plan.sticks : undefined,
    skill: grower.hands,
    note: plan.note,
  })
  const { attemptId } = mustWork(
    await recordAttempt(sim.at(plan.writtenOn, 21, 0), scribe, input),
    `record what ${grower.name} made`,
  )
  return { ...plan, attemptId }
}

interface GraftingSeason {
  readonly made: readonly MadeGraft[]
  /** Wood that went home and was never used. */
  readonly unused: readonly Received[]
}

/** Everything that was grafted, budded and stuck after one swap. */
export async function graftWood(
  sim: Simulation,
  world: World,
  season: Season,
  wood: { readonly received: readonly Received[]; readonly lots: readonly CutLot[] },
): Promise<GraftingSeason> {
  const random = sim.random(`grafting ${season.heldOn}`)
  const { plans, unused } = planReceived(random, world, season, wood.received)
  const ownBags = planOwnBags(random, world, season, wood.lots)
  for (const { lot, sticks } of ownBags) if (lot) lot.inStore -= sticks
  const all = [...plans, ...ownBags, ...planSummerBuds(random, world, season, sim.calendar.yesterday)].sort(
    (a, b) => daysBetween(b.madeOn, a.madeOn),
  )
  return { made: await severalAtOnce(all, (plan) => writeGraft(sim, world, plan)), unused }
}
