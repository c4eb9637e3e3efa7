import type { Database } from '#lib/platform/database/database.ts'
import { copyTheNotebook } from '#seed/demo/acts/copy-the-notebook.ts'
import { foundHollowBank } from '#seed/demo/acts/found-hollow-bank.ts'
import { gatherPeople } from '#seed/demo/acts/gather-people.ts'
import { walkTheTrees } from '#seed/demo/acts/grow-limbs.ts'
import { listVarieties, lookUpProtection } from '#seed/demo/acts/list-varieties.ts'
import { liveThroughSeason, openSeason } from '#seed/demo/acts/live-through-season.ts'
import { openStores } from '#seed/demo/acts/open-stores.ts'
import { plantTrees } from '#seed/demo/acts/plant-trees.ts'
import { personOf, simulation, type World } from '#seed/demo/simulation.ts'
import { loadTaxa } from '#seed/reference/load-taxa.ts'

export interface DemoWorldOptions {
  /** The present of the demo: everything lies before it, and the open swap a little after. */
  readonly now: Date
  /** The same seed makes the same world, but for ids and codes. */
  readonly seed?: number
  readonly onProgress?: (words: string) => void
}

const usualSeed = 1887

/**
 * Fills an empty, migrated database with the invented Marrow Lane Orchard Circle: a simulator lives through three
 * seasons with the same commands that people use, so that every rule of the ledger has been kept.
 * Takes its clock from `now` alone, and does not mark the installation as a demo.
 */
export async function buildDemoWorld(
  db: Database,
  { now, seed = usualSeed, onProgress = () => {} }: DemoWorldOptions,
): Promise<void> {
  const sim = simulation(db, now, seed)
  await loadTaxa(db)
  onProgress('people join')
  const people = await gatherPeople(sim)
  onProgress('trees are planted')
  const varieties = await listVarieties(sim, personOf({ people }, 'priya'))
  const stores = await openStores(sim, people, personOf({ people }, 'joss'))
  const limbs = await plantTrees(sim, { people, varieties })
  const world: World = { people, varieties, stores, limbs }
  await copyTheNotebook(sim, world)
  for (const season of sim.calendar.finished) {
    onProgress(`the swap of ${season.heldOn.slice(0, 4)}`)
    await liveThroughSeason(sim, world, season)
  }
  onProgress('this season')
  await walkTheTrees(sim, world)
  await lookUpProtection(sim, personOf(world, 'priya'), varieties)
  await openSeason(sim, world)
  await foundHollowBank(sim, personOf(world, 'idris'))
}
