import { required } from '#lib/kernel/assert.ts'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import type { Random } from '#lib/kernel/seeded-random.ts'
import type { LotKind, Packaging, ToolCare } from '#lib/platform/generated/enums.ts'
import { LogCuttingSessionInput } from '#lib/wood/input.ts'
import { logCuttingSession } from '#lib/wood/log-cutting-session.ts'
import { between, type Season } from '#seed/demo/calendar.ts'
import { pendingVariety } from '#seed/demo/data/varieties.ts'
import {
  type CutLot,
  type GrownLimb,
  mustWork,
  type Person,
  pickByWeight,
  type Simulation,
  scribeOf,
  severalAtOnce,
  storeOf,
  type World,
} from '#seed/demo/simulation.ts'
import type { Crop } from '#seed/demo/truth.ts'

/** Crops whose wood is stuck into the ground rather than onto a stock. */
const rootedCrops: ReadonlySet<Crop> = new Set(['fig', 'currant', 'gooseberry', 'grape', 'mulberry'])
/** Crops that are budded in summer. */
const buddedCrops: ReadonlySet<Crop> = new Set(['apple', 'pear', 'plum', 'cherry', 'peach', 'apricot'])

/** What becomes of a limb's shoots in a season: dormant sticks, cuttings, or budwood in summer. */
function kindOfWood(crop: Crop, season: Season['kind']): LotKind | null {
  if (season === 'budding') return buddedCrops.has(crop) ? 'budwood' : null
  return rootedCrops.has(crop) ? 'hardwood_cuttings' : 'scion_wood'
}

const sticksOf = (random: Random, limb: GrownLimb, kind: LotKind): number => {
  if (limb.graftsBehind > 0) return random.integer(5, 9)
  if (kind === 'budwood') return random.integer(4, 12)
  return kind === 'hardwood_cuttings' ? random.integer(12, 32) : random.integer(7, 24)
}

const packagings: readonly (readonly [Packaging, number])[] = [
  ['sealed_damp', 55],
  ['sealed_bag', 22],
  ['waxed_sealed', 8],
  ['open_bag', 8],
  ['paper', 5],
  ['bare', 2],
]

const toolCares: readonly (readonly [ToolCare, number])[] = [
  ['wiped_between_trees', 65],
  ['wiped_once', 15],
  ['not_noted', 12],
  ['not_wiped', 8],
]

const weathers = [
  'dry, still',
  'dry, light frost first thing',
  'dry',
  'showers between',
  'grey, 6 °C',
] as const
const summerWeathers = ['dry, before the heat', 'dry, early morning', 'overcast'] as const
const tools = ['bypass secateurs', 'secateurs', 'pruning knife', ''] as const

interface Cut {
  readonly limb: GrownLimb
  readonly kind: LotKind
  readonly sticks: number
  readonly packaging: Packaging
  readonly budStage: number
  readonly note?: string
}

interface Session {
  readonly cutter: Person
  readonly cutOn: CivilDate
  readonly tool: string
  readonly toolCare: ToolCare
  readonly weather: string
  readonly storeKey: string
  readonly cuts: readonly Cut[]
}

/** How likely a limb is to be cut: what people want, what came from earlier grafts, and what the story needs. */
function cutWeight(limb: GrownLimb, isCurrent: boolean): number {
  if (limb.variety === null) return isCurrent && limb.keeper.key === 'joss' ? 1000 : 0
  const isTold = limb.variety.name === pendingVariety || limb.crop === 'grape' || limb.keeper.key === 'wren'
  if (isTold) return isCurrent ? 1000 : 8
  if (limb.graftsBehind > 0) return 300 * limb.graftsBehind
  return [1, 2, 5, 12][limb.variety.wanted] ?? 1
}

/** The limbs that are cut, by weight and without doubling, until there are as many as wanted. */
function chooseLimbs(random: Random, world: World, season: Season, lots: number, isCurrent: boolean) {
  const chosen: { limb: GrownLimb; kind: LotKind }[] = []
  const ranked = world.limbs
    .flatMap((limb) => {
      const kind = limb.givesFrom <= season.cutFrom ? kindOfWood(limb.crop, season.kind) : null
      const weight = cutWeight(limb, isCurrent)
      // Efraimidis and Spirakis 2006: the largest u^(1/w) are a weighted sample without replacement.
      return kind === null || weight === 0 ? [] : [{ limb, kind, rank: random.next() ** (1 / weight) }]
    })
    .sort((a, b) => b.rank - a.rank)
  for (const { limb, kind } of ranked.slice(0, lots)) chosen.push({ limb, kind })
  return chosen
}

/** Buds stay shut in the cold; those of stone fruit and currants move first. */
function budStage(random: Random, crop: Crop, season: Season, cutOn: CivilDate): number {
  const isEarlyCrop = ['peach', 'apricot', 'currant', 'gooseberry', 'plum', 'cherry'].includes(crop)
  const isLate = season.kind === 'dormant' && cutOn.slice(5) > '01-31' && cutOn.slice(5) < '04-01'
  return isEarlyCrop && isLate && random.chance(0.3) ? 1 : 0
}

function planSession(
  random: Random,
  world: World,
  season: Season,
  cutter: Person,
  wood: readonly { limb: GrownLimb; kind: LotKind }[],
): Session {
  const cutOn = between(season.cutFrom, season.cutTo, random.next())
  const own = world.stores.find(({ key }) => key === cutter.key)
  const anywhere = random.chance(0.6) ? 'group' : 'shed'
  return {
    cutter,
    cutOn,
    tool: random.pick(tools),
    toolCare: pickByWeight(random, toolCares),
    weather: random.pick(season.kind === 'budding' ? summerWeathers : weathers),
    storeKey: own?.key ?? anywhere,
    cuts: wood.map(({ limb, kind }) => ({
      limb,
      kind,
      sticks: sticksOf(random, limb, kind),
      packaging: kind === 'budwood' ? 'sealed_damp' : pickByWeight(random, packagings),
      budStage: budStage(random, limb.crop, season, cutOn),
      ...(limb.variety === null ? { note: 'Label lost. Behind the garage, second from the gate?' } : {}),
    })),
  }
}

/** Who cuts what on which day: nobody more than five limbs in one session. */
function planSessions(sim: Simulation, world: World, season: Season, lots: number): readonly Session[] {
  const random = sim.random(`cutting ${season.heldOn}`)
  const isCurrent = season === sim.calendar.current
  const wood = chooseLimbs(random, world, season, lots, isCurrent)
  return world.people
    .flatMap((cutter) => {
      const theirs = wood.filter(({ limb }) => limb.keeper.key === cutter.key)
      const sessions: Session[] = []
      for (let from = 0; from < theirs.length; from += 5)
        sessions.push(planSession(random, world, season, cutter, theirs.slice(from, from + 5)))
      return sessions
    })
    .sort((a, b) => daysBetween(b.cutOn, a.cutOn))
}

async function logSession(sim: Simulation, world: World, session: Session): Promise<readonly CutLot[]> {
  const { cutter, cutOn, cuts } = session
  const storeId = storeOf(world, session.storeKey).storeId
  const input = LogCuttingSessionInput.parse({
    key: sim.db.newId(),
    cutterId: cutter.memberId,
    cutOn,
    tool: session.tool,
    toolCare: session.toolCare,
    weather: session.weather,
    lots: cuts.map(({ limb, ...cut }) => ({
      ...cut,
      limbId: limb.limbId,
      diameter: cut.kind === 'budwood' ? 'pencil' : limb.crop === 'fig' ? 'thick' : 'pencil',
      storeId,
    })),
  })
  const { lots } = mustWork(
    await logCuttingSession(sim.at(cutOn, 19), scribeOf(world, cutter), input),
    `log the session of ${cutter.name}`,
  )
  return cuts.map(({ limb, kind, sticks }, i): CutLot => {
    const { lotId, code } = required(lots[i], 'a lot of a new session')
    return { lotId, code, limb, kind, cutOn, sticks, inStore: sticks, storeKey: session.storeKey }
  })
}

/** The cutting sessions of one season. */
export async function cutWood(
  sim: Simulation,
  world: World,
  season: Season,
  lots: number,
): Promise<readonly CutLot[]> {
  const sessions = planSessions(sim, world, season, lots)
  return (await severalAtOnce(sessions, (session) => logSession(sim, world, session))).flat()
}
