import { required } from '#lib/kernel/assert.ts'
import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'
import { addLimb } from '#lib/trees/add-limb.ts'
import { addTree } from '#lib/trees/add-tree.ts'
import { editLimb } from '#lib/trees/edit-limb.ts'
import { AddLimbInput, AddTreeInput, EditLimbInput } from '#lib/trees/input.ts'
import type { MadeGraft } from '#seed/demo/acts/graft-wood.ts'
import type { SeenAtLeafFall } from '#seed/demo/acts/look-at-grafts.ts'
import { augustBefore } from '#seed/demo/acts/plant-trees.ts'
import { type LimbSeed, marks, places, sides } from '#seed/demo/data/trees.ts'
import {
  type GrownLimb,
  mustWork,
  type Person,
  personOf,
  type Simulation,
  scribeOf,
  severalAtOnce,
  type World,
} from '#seed/demo/simulation.ts'

/** A member changes their own trees; for somebody without an account the steward does. */
const gardenerOf = (world: World, person: Person) =>
  person.email === null ? personOf(world, 'greta').actor : person.actor

interface NewLimbPlan {
  readonly graft: MadeGraft
  readonly entered: Omit<LimbSeed, 'variety'>
  readonly place: string
  readonly on: CivilDate
}

/** Enters one living graft as a limb of its host, or as a tree of its own. */
export async function growOn(sim: Simulation, world: World, plan: NewLimbPlan): Promise<GrownLimb> {
  const { graft, entered, place, on } = plan
  const { grower, variety, host } = graft
  const limb = { ...entered, varietyId: variety.varietyId, fromAttemptId: graft.attemptId }
  const grown = (treeId: string, limbId: string): GrownLimb => ({
    limbId,
    treeId,
    entered,
    variety,
    crop: variety.crop,
    keeper: grower,
    place,
    givesFrom: on,
    graftsBehind: graft.limb.graftsBehind + 1,
  })
  if (host) {
    const input = AddLimbInput.parse({ key: sim.db.newId(), treeId: host.treeId, ...limb })
    const { limbId } = mustWork(
      await addLimb(sim.at(on), gardenerOf(world, grower), input),
      `add a limb of ${grower.name}`,
    )
    return grown(host.treeId, limbId)
  }
  const input = AddTreeInput.parse({
    key: sim.db.newId(),
    keeperId: grower.memberId,
    rootstock: graft.stock,
    place,
    plantedOn: graft.madeOn,
    limbs: [limb],
  })
  const { treeId, limbIds } = mustWork(
    await addTree(sim.at(on), scribeOf(world, grower), input),
    `plant a graft of ${grower.name}`,
  )
  return grown(treeId, required(limbIds[0], 'the limb of a new tree'))
}

/**
 * Grafts that lived become limbs: on their host, or as a tree of their own. Those of an older line come first, so
 * that wood can be followed over several grafts.
 */
export async function growLimbs(
  sim: Simulation,
  world: World,
  seen: readonly SeenAtLeafFall[],
  howMany: number,
  act: string,
): Promise<void> {
  const random = sim.random(`limbs ${act}`)
  // A bud of the summer has not grown yet when the leaves fall.
  const lived = seen
    .filter(({ graft, alive }) => alive > 0 && graft.lot !== null)
    .map(({ graft, on }) => ({
      graft,
      on: addDays(on, 2),
      rank: graft.limb.graftsBehind + random.next(),
    }))
  const chosen = lived
    .filter(({ on }) => on <= sim.calendar.yesterday)
    .sort((a, b) => b.rank - a.rank)
    .slice(0, howMany)
  const used = new Map<string, number>()
  const plans = chosen.map(({ graft, on }): NewLimbPlan => {
    const { host } = graft
    const place = host ? host.place : random.pick(places)
    const isCutting = graft.method === 'hardwood-cutting'
    const entered = { origin: isCutting ? 'own' : 'grafted', identity: 'donor_word' } as const
    if (!host) return { graft, on, place, entered: { ...entered, mark: 'A' } }
    const there = world.limbs.filter(({ treeId }) => treeId === host.treeId).length
    const index = there + (used.get(host.treeId) ?? 0)
    used.set(host.treeId, (used.get(host.treeId) ?? 0) + 1)
    const heightCm = 90 + 15 * index
    return {
      graft,
      on,
      place,
      entered: { ...entered, mark: marks.charAt(index), heightCm, side: random.pick(sides) },
    }
  })
  world.limbs.push(...(await severalAtOnce(plans, (plan) => growOn(sim, world, plan))))
}

/** The August round: most limbs are looked at while they are in leaf, because winter wood shows no mosaic. */
export async function walkTheTrees(sim: Simulation, world: World): Promise<void> {
  const random = sim.random('august')
  const on = augustBefore(addDays(sim.calendar.yesterday, -7))
  const seen = world.limbs.filter((limb) => limb.givesFrom < on && random.chance(0.6))
  await severalAtOnce(seen, async ({ limbId, entered, variety, keeper }) => {
    const input = EditLimbInput.parse({
      ...entered,
      limbId,
      varietyId: variety?.varietyId,
      seenInLeafOn: on,
    })
    mustWork(
      await editLimb(sim.at(addDays(on, 3)), gardenerOf(world, keeper), input),
      `look over a limb of ${keeper.name}`,
    )
  })
}
