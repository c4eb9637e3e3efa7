import { PlaceHoldInput, ReleaseHoldInput } from '#lib/health/input.ts'
import { placeHold } from '#lib/health/place-hold.ts'
import { releaseHold } from '#lib/health/release-hold.ts'
import { required } from '#lib/kernel/assert.ts'
import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'
import { type CutLot, mustWork, personOf, type Simulation, type World } from '#seed/demo/simulation.ts'

async function place(sim: Simulation, world: World, lot: CutLot, reason: string, on: CivilDate) {
  const steward = personOf(world, 'greta').actor
  const input = PlaceHoldInput.parse({ key: sim.db.newId(), lotId: lot.lotId, reason })
  return mustWork(await placeHold(sim.at(on, 9, 30), steward, input), `hold ${lot.code}`).holdId
}

/** Ooze that turned out to be a pruning wound: a hold that was released before the swap. */
export async function holdAndRelease(sim: Simulation, world: World, lots: readonly CutLot[]): Promise<void> {
  const lot = required(
    lots.find(({ limb }) => limb.crop === 'pear'),
    'a lot of pear',
  )
  const reason = 'Amber beads on two sticks. Until we know what it is, none of this moves.'
  const holdId = await place(sim, world, lot, reason, addDays(lot.cutOn, 1))
  const input = ReleaseHoldInput.parse({
    holdId,
    reason:
      'Looked at with the donor: sap from a pruning wound of the summer. No blackened tips on the tree.',
  })
  const steward = personOf(world, 'greta').actor
  mustWork(await releaseHold(sim.at(addDays(lot.cutOn, 4)), steward, input), `release ${lot.code}`)
}

/** Wood without a name is kept back until somebody can say what it is. */
export async function holdUnnamed(sim: Simulation, world: World, lots: readonly CutLot[]): Promise<void> {
  const lot = required(
    lots.find(({ limb }) => limb.variety === null),
    'a lot without a name',
  )
  await place(
    sim,
    world,
    lot,
    'The label is lost. Joss is asking who planted the limb.',
    addDays(lot.cutOn, 1),
  )
}
