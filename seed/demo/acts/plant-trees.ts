import { required } from '#lib/kernel/assert.ts'
import { addDays, type CivilDate, civilDate } from '#lib/kernel/civil-date.ts'
import type { Random } from '#lib/kernel/seeded-random.ts'
import type { IdentityBasis } from '#lib/platform/generated/enums.ts'
import { addTree } from '#lib/trees/add-tree.ts'
import { AddTreeInput } from '#lib/trees/input.ts'
import {
  type LimbSeed,
  marks,
  namedTrees,
  places,
  rootstocks,
  sides,
  type TreeSeed,
} from '#seed/demo/data/trees.ts'
import { pendingVariety } from '#seed/demo/data/varieties.ts'
import {
  type GrownLimb,
  type GrownVariety,
  mustWork,
  type Person,
  personOf,
  pickByWeight,
  type Simulation,
  scribeOf,
  severalAtOnce,
  varietyOf,
} from '#seed/demo/simulation.ts'
import type { Crop } from '#seed/demo/truth.ts'

/** Trees that are there before any graft of the ledger has become one. */
const treesAtFirst = 88

const bases: readonly (readonly [IdentityBasis, number])[] = [
  ['fruited_true', 45],
  ['nursery_tag', 20],
  ['donor_word', 17],
  ['expert', 8],
  ['unknown', 6],
  ['dna', 4],
]

/** Crops that people graft several sorts of onto one tree. */
const familyTrees: readonly Crop[] = ['apple', 'pear', 'plum']

function extraLimbs(
  random: Random,
  variety: GrownVariety,
  varieties: readonly GrownVariety[],
): readonly LimbSeed[] {
  if (!familyTrees.includes(variety.crop) || !random.chance(0.22)) return []
  const others = varieties.filter(
    ({ crop, name }) => crop === variety.crop && name !== variety.name && name !== pendingVariety,
  )
  return random
    .shuffle(others)
    .slice(0, random.integer(1, 4))
    .map((other, i) => ({
      mark: marks.charAt(i + 1),
      variety: other.name,
      origin: 'grafted',
      identity: pickByWeight(random, bases),
      heightCm: 80 + 25 * i + random.integer(0, 10),
      side: random.pick(sides),
    }))
}

/** One more tree for somebody, of a variety that the Circle is short of or fond of. */
function ordinaryTree(
  random: Random,
  keeper: Person,
  variety: GrownVariety,
  varieties: readonly GrownVariety[],
): TreeSeed {
  const stocks = rootstocks[variety.crop]
  const own: LimbSeed = {
    mark: 'A',
    variety: variety.name,
    origin: 'own',
    identity: pickByWeight(random, bases),
  }
  return {
    keeper: keeper.key,
    ...(stocks.length === 0 ? {} : { rootstock: random.pick(stocks) }),
    place: random.pick(places),
    plantedYearsAgo: random.integer(4, 28),
    crop: variety.crop,
    limbs: [own, ...extraLimbs(random, variety, varieties)],
  }
}

/** All trees as they stand before the first swap: those that people talk about, then every variety at least once. */
function planTrees(
  sim: Simulation,
  people: readonly Person[],
  varieties: readonly GrownVariety[],
): readonly TreeSeed[] {
  const random = sim.random('trees')
  const before = sim.calendar.finished[0].cutFrom
  const keepers = people.filter((person) => person.joinedOn < before)
  const planted = new Set(namedTrees.flatMap(({ limbs }) => limbs.map(({ variety }) => variety)))
  const absent = varieties.filter(({ name }) => !planted.has(name))
  const rest = treesAtFirst - namedTrees.length - absent.length
  const weights = varieties
    .filter(({ name }) => name !== pendingVariety)
    .map((variety) => [variety, 1 + variety.wanted] as const)
  const more = Array.from({ length: rest }, () => pickByWeight(random, weights))
  const ordinary = [...absent, ...more].map((variety, i) => {
    // Round the keepers in turn, so that nearly everybody has something to cut.
    const keeper = required(keepers[i % keepers.length], 'a keeper')
    return ordinaryTree(random, keeper, variety, varieties)
  })
  return [...namedTrees, ...ordinary]
}

/** The last August before a day, when leaves and fruit show what a tree is and how it does. */
export const augustBefore = (day: CivilDate): CivilDate => {
  const year = Number(day.slice(0, 4))
  return civilDate(`${day.slice(5) > '08-31' ? year : year - 1}-08-20`)
}

interface Garden {
  readonly people: readonly Person[]
  readonly varieties: readonly GrownVariety[]
}

async function plant(sim: Simulation, garden: Garden, seed: TreeSeed, seen: boolean): Promise<GrownLimb[]> {
  const on = addDays(sim.calendar.finished[0].cutFrom, -60)
  const keeper = personOf(garden, seed.keeper)
  const seenInLeafOn = seen ? augustBefore(on) : undefined
  const varietyNamed = (name: string | null) => (name === null ? null : varietyOf(garden, name))
  const input = AddTreeInput.parse({
    key: sim.db.newId(),
    keeperId: keeper.memberId,
    rootstock: seed.rootstock,
    place: seed.place,
    plantedOn: addDays(on, -Math.round(seed.plantedYearsAgo * 365.25)),
    note: seed.note,
    limbs: seed.limbs.map(({ variety, ...limb }) => ({
      ...limb,
      varietyId: varietyNamed(variety)?.varietyId,
      seenInLeafOn,
    })),
  })
  const { treeId, limbIds } = mustWork(
    await addTree(sim.at(on), scribeOf(garden, keeper), input),
    `plant a tree of ${seed.keeper}`,
  )
  return seed.limbs.map(({ variety, ...entered }, i) => ({
    limbId: required(limbIds[i], 'a limb of a new tree'),
    treeId,
    entered,
    variety: varietyNamed(variety),
    crop: varietyNamed(variety)?.crop ?? seed.crop,
    keeper,
    place: seed.place,
    givesFrom: on,
    graftsBehind: 0,
  }))
}

/** Everybody's trees and their limbs. */
export async function plantTrees(sim: Simulation, garden: Garden): Promise<GrownLimb[]> {
  const random = sim.random('seen in leaf')
  const seeds = planTrees(sim, garden.people, garden.varieties).map((seed) => ({
    seed,
    seen: random.chance(0.75),
  }))
  return (await severalAtOnce(seeds, ({ seed, seen }) => plant(sim, garden, seed, seen))).flat()
}
