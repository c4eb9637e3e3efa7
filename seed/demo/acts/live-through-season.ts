import { addDays } from '#lib/kernel/civil-date.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import { HandOverInput } from '#lib/swaps/input.ts'
import { claimWood } from '#seed/demo/acts/claim-wood.ts'
import { cutWood } from '#seed/demo/acts/cut-wood.ts'
import { graftWood } from '#seed/demo/acts/graft-wood.ts'
import { growLimbs } from '#seed/demo/acts/grow-limbs.ts'
import { holdSwap } from '#seed/demo/acts/hold-swap.ts'
import { holdAndRelease, holdUnnamed } from '#seed/demo/acts/hold-wood.ts'
import { bringWoodIn, clearOut, lookOverWood } from '#seed/demo/acts/keep-wood.ts'
import { lookAtGrafts, withdrawOne } from '#seed/demo/acts/look-at-grafts.ts'
import { offerWood } from '#seed/demo/acts/offer-wood.ts'
import { readTheFridge } from '#seed/demo/acts/open-stores.ts'
import type { Season } from '#seed/demo/calendar.ts'
import { mustWork, personOf, type Simulation, type World } from '#seed/demo/simulation.ts'

/** How much happens in a season: lots cut, lots on the table, limbs grown on from its grafts. */
const finishedSize = { lots: 92, offers: 40, limbs: 13 } as const
const currentSize = { lots: 66, offers: 31 } as const

/** One season from the first cut to the last look: the wood, the swap, and what was made of it. */
export async function liveThroughSeason(sim: Simulation, world: World, season: Season): Promise<void> {
  const isNewest = season === sim.calendar.finished[1]
  const lots = await cutWood(sim, world, season, finishedSize.lots)
  await bringWoodIn(sim, world, season, lots)
  await readTheFridge(sim, world, season)
  if (isNewest) await holdAndRelease(sim, world, lots)
  await lookOverWood(sim, world, season, lots)
  const swap = await offerWood(sim, world, season, lots, finishedSize.offers)
  const rush = { last: addDays(season.claimsCloseOn, -1), share: 0.7, upTo: 1 }
  const claims = await claimWood(sim, world, swap, rush)
  const received = await holdSwap(sim, world, swap, claims)
  const { made, unused } = await graftWood(sim, world, season, { received, lots })
  await clearOut(sim, world, season, lots)
  const seen = await lookAtGrafts(sim, world, made, season.heldOn)
  if (isNewest) await withdrawOne(sim, world, unused)
  await growLimbs(sim, world, seen, finishedSize.limbs, season.heldOn)
}

/** The season that is on: wood is cut and offered, claims are open, and a few people fetched theirs early. */
export async function openSeason(sim: Simulation, world: World): Promise<void> {
  const { current, yesterday } = sim.calendar
  const lots = await cutWood(sim, world, current, currentSize.lots)
  await bringWoodIn(sim, world, current, lots)
  await readTheFridge(sim, world, current)
  await holdUnnamed(sim, world, lots)
  await lookOverWood(sim, world, current, lots)
  const swap = await offerWood(sim, world, current, lots, currentSize.offers)
  const claims = await claimWood(sim, world, swap, { last: yesterday, share: 0.5, upTo: 0.5 })
  const early = claims.filter(({ on }) => on < yesterday)
  const fetched = [
    ...early.filter(({ person }) => person.key === 'wren').slice(0, 1),
    ...early.filter(({ person }) => person.key !== 'wren').slice(0, 2),
  ]
  for (const { claimId, sticks } of fetched) {
    const input = HandOverInput.parse({ key: sim.db.newId(), claimId, sticks })
    mustWork(
      await handOver(sim.at(yesterday, 10, 15), personOf(world, 'joss').actor, input),
      'hand over what was fetched early',
    )
  }
}
