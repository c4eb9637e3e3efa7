import { RecordCheckInput } from '#lib/attempts/input.ts'
import { recordCheck } from '#lib/attempts/record-check.ts'
import type { MethodKey } from '#lib/grafting/methods.ts'
import { required } from '#lib/kernel/assert.ts'
import { addDays, civilDate } from '#lib/kernel/civil-date.ts'
import { type PlannedGraft, writeGraft } from '#seed/demo/acts/graft-wood.ts'
import { growOn } from '#seed/demo/acts/grow-limbs.ts'
import {
  type GrownLimb,
  mustWork,
  personOf,
  type Simulation,
  severalAtOnce,
  varietyOf,
  type World,
} from '#seed/demo/simulation.ts'

type Line = readonly [
  variety: string,
  grower: string,
  yearsAgo: number,
  method: MethodKey,
  stock: string | null,
  pieces: number,
  alive: number,
]

/** What stood in Joss's notebook before there was a ledger. Only batches of which something lived were kept in it. */
const notebook: readonly Line[] = [
  ["D'Arcy Spice", 'idris', 6, 'whip-and-tongue', 'MM106', 4, 3],
  ['Mirabelle de Nancy', 'joss', 6, 'whip-and-tongue', 'St Julien A', 3, 1],
  ['Joséphine de Malines', 'maud', 5, 'cleft', 'Quince A', 3, 2],
  ['Beurré Superfin', 'fenna', 5, 'whip-and-tongue', 'Pyrodwarf', 3, 2],
  ['Desert King', 'samir', 5, 'hardwood-cutting', null, 6, 5],
  ["Ashmead's Kernel", 'callum', 3, 'whip-and-tongue', 'M26', 4, 4],
  ['Egremont Russet', 'wren', 4, 'whip-and-tongue', 'M26', 2, 2],
  ['Court Pendu Plat', 'odile', 4, 'cleft', 'M26', 3, 2],
  ['Shropshire Prune', 'tobias', 4, 'whip-and-tongue', 'St Julien A', 3, 3],
]

async function copyLine(sim: Simulation, world: World, line: Line): Promise<GrownLimb> {
  const [name, growerKey, yearsAgo, method, stock, pieces, alive] = line
  const { finished } = sim.calendar
  const writtenOn = addDays(finished[0].cutFrom, -40)
  const year = Number(finished[1].heldOn.slice(0, 4)) - yearsAgo
  const variety = varietyOf(world, name)
  const grower = personOf(world, growerKey)
  const scribe = personOf(world, 'joss').actor
  const limb = required(
    world.limbs.find((one) => one.variety?.name === name && one.keeper.key !== growerKey),
    `a limb of ${name}`,
  )
  const plan: PlannedGraft = {
    grower,
    variety,
    limb,
    lot: null,
    sticks: 0,
    pieces,
    method,
    treatment: null,
    stock,
    host: null,
    madeOn: civilDate(`${year}-03-27`),
    writtenOn,
    woodAgeDays: 50,
    note: 'Copied from the notebook.',
  }
  const graft = await writeGraft(sim, world, plan, scribe)
  const look = RecordCheckInput.parse({
    key: sim.db.newId(),
    attemptId: graft.attemptId,
    checkedOn: `${year}-10-30`,
    alive,
    dead: pieces - alive,
    unknown: 0,
  })
  mustWork(await recordCheck(sim.at(writtenOn, 21, 20), scribe, look), 'copy a look')
  const isCutting = method === 'hardwood-cutting'
  const entered = { mark: 'A', origin: isCutting ? 'own' : 'grafted', identity: 'fruited_true' } as const
  return growOn(sim, world, { graft, entered, place: 'Back garden', on: addDays(writtenOn, 1) })
}

/** Older grafts are copied from a notebook, so that the lines of today's trees reach back beyond the ledger. */
export async function copyTheNotebook(sim: Simulation, world: World): Promise<void> {
  const grown = await severalAtOnce(notebook, (line) => copyLine(sim, world, line))
  world.limbs.push(...grown)
}
