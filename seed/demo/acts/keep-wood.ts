import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'
import type { Random } from '#lib/kernel/seeded-random.ts'
import { MoveLotInput, RecordLossInput } from '#lib/wood/input.ts'
import { moveLot } from '#lib/wood/move-lot.ts'
import { recordLoss } from '#lib/wood/record-loss.ts'
import { earlier, type Season } from '#seed/demo/calendar.ts'
import {
  type CutLot,
  mustWork,
  personOf,
  type Simulation,
  severalAtOnce,
  storeOf,
  type World,
} from '#seed/demo/simulation.ts'

interface Journey {
  readonly lot: CutLot
  readonly steps: readonly { readonly to: string; readonly onDay: CivilDate }[]
}

/** From the cutter's own fridge or the shed to the group fridge, some by way of the shed, some never. */
function planJourney(random: Random, lot: CutLot, season: Season, last: CivilDate): Journey {
  const quick = season.kind === 'budding'
  const afterDays = quick ? 1 : random.integer(2, 14)
  const goesIn = lot.storeKey !== 'group' && lot.limb.variety !== null && random.chance(0.7)
  const byTheShed = !quick && lot.storeKey !== 'shed' && random.chance(0.12)
  const arrival = addDays(lot.cutOn, afterDays)
  if (!goesIn || arrival > last) return { lot, steps: [] }
  const detour = byTheShed ? [{ to: 'shed', onDay: addDays(arrival, -1) }] : []
  return { lot, steps: [...detour, { to: 'group', onDay: arrival }] }
}

/** Lots go from where they were cut to where they are kept until the swap. */
export async function bringWoodIn(
  sim: Simulation,
  world: World,
  season: Season,
  lots: readonly CutLot[],
): Promise<void> {
  const random = sim.random(`keeping ${season.heldOn}`)
  const { yesterday } = sim.calendar
  const last = earlier(addDays(season.heldOn, -3), yesterday)
  const stock = personOf(world, 'joss')
  const journeys = lots.map((lot) => planJourney(random, lot, season, last))
  await severalAtOnce(journeys, async ({ lot, steps }) => {
    for (const { to, onDay } of steps) {
      const input = MoveLotInput.parse({
        key: sim.db.newId(),
        lotId: lot.lotId,
        storeId: storeOf(world, to).storeId,
        onDay,
      })
      mustWork(await moveLot(sim.at(onDay), stock.actor, input), `move ${lot.code}`)
      lot.storeKey = to
    }
  })
}

interface Loss {
  readonly lot: CutLot
  readonly sticks: number
  readonly fate: RecordLossInput['fate']
  readonly reason: string
  readonly on: CivilDate
}

async function writeOff(sim: Simulation, world: World, loss: Loss): Promise<void> {
  const input = RecordLossInput.parse({
    key: sim.db.newId(),
    lotId: loss.lot.lotId,
    sticks: loss.sticks,
    fate: loss.fate,
    reason: loss.reason,
  })
  const stock = personOf(world, 'joss')
  mustWork(await recordLoss(sim.at(loss.on), stock.actor, input), `write off sticks of ${loss.lot.code}`)
  loss.lot.inStore -= loss.sticks
}

const mishaps = [
  { fate: 'destroyed', reason: 'Mould under the tie' },
  { fate: 'destroyed', reason: 'Snapped at intake' },
  { fate: 'destroyed', reason: 'Dry: the bark wrinkles' },
  { fate: 'lost', reason: 'Fewer in the bag than on the label' },
] as const

/** The look over the wood before a swap: here and there a stick is mouldy, dry or not there at all. */
export async function lookOverWood(
  sim: Simulation,
  world: World,
  season: Season,
  lots: readonly CutLot[],
): Promise<void> {
  const random = sim.random(`mishaps ${season.heldOn}`)
  const { yesterday } = sim.calendar
  const on = earlier(addDays(season.claimsOpenOn, -1), yesterday)
  const losses = lots.flatMap((lot): Loss[] => {
    const share = random.next()
    const mishap = random.pick(mishaps)
    const sticks = random.integer(1, 3)
    const isThere = lot.cutOn < on && lot.inStore > sticks + 2
    return isThere && share < 0.16 ? [{ lot, sticks, on, ...mishap }] : []
  })
  await severalAtOnce(losses, (loss) => writeOff(sim, world, loss))
}

/** By June nobody grafts with what is left of last winter: it goes on the bonfire, stick by stick. */
export async function clearOut(
  sim: Simulation,
  world: World,
  season: Season,
  lots: readonly CutLot[],
): Promise<void> {
  const on = addDays(season.heldOn, 100)
  const losses = lots
    .filter((lot) => lot.inStore > 0)
    .map((lot) => ({
      lot,
      sticks: lot.inStore,
      fate: 'destroyed' as const,
      reason: 'Left over, past its time',
      on,
    }))
  await severalAtOnce(losses, (loss) => writeOff(sim, world, loss))
}
