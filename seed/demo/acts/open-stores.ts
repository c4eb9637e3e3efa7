import { addDays } from '#lib/kernel/civil-date.ts'
import { addStore } from '#lib/wood/add-store.ts'
import { AddStoreInput, ReportReadingInput } from '#lib/wood/input.ts'
import { reportReading } from '#lib/wood/report-reading.ts'
import { earlier, type Season } from '#seed/demo/calendar.ts'
import { storeSeeds } from '#seed/demo/data/stores.ts'
import {
  mustWork,
  normalDeviate,
  type Person,
  personOf,
  type Simulation,
  type StoreRoom,
  severalAtOnce,
  storeOf,
} from '#seed/demo/simulation.ts'

/** The places where wood is kept. */
export function openStores(
  sim: Simulation,
  people: readonly Person[],
  stock: Person,
): Promise<readonly StoreRoom[]> {
  const on = addDays(sim.calendar.finished[0].cutFrom, -30)
  return severalAtOnce(storeSeeds, async ({ key, keeper, ...store }) => {
    const keeperId = keeper === undefined ? undefined : personOf({ people }, keeper).memberId
    const input = AddStoreInput.parse({ key: sim.db.newId(), ...store, keeperId })
    return { key, ...mustWork(await addStore(sim.at(on), stock.actor, input), `open ${store.name}`) }
  })
}

/** How far apart the readings of a season are, in days. */
const everyDays = { dormant: 3, budding: 1 } as const

/**
 * The thermometer of the group fridge over one season: a logger morning and evening, about 2 °C, warmer for two
 * days when somebody left the door ajar.
 */
export async function readTheFridge(
  sim: Simulation,
  world: { readonly people: readonly Person[]; readonly stores: readonly StoreRoom[] },
  season: Season,
): Promise<void> {
  const random = sim.random(`fridge ${season.heldOn}`)
  const { storeId } = storeOf(world, 'group')
  const keeper = personOf(world, 'nell')
  const last = earlier(season.heldOn, sim.calendar.yesterday)
  const readings: ReportReadingInput[] = []
  let count = 0
  for (let day = season.cutFrom; day <= last; day = addDays(day, everyDays[season.kind])) {
    count += 1
    const ajar = count === 6 ? 4 : 0
    for (const [atTime, swing] of [
      ['07:00', -0.3],
      ['19:00', 0.3],
    ] as const) {
      const celsius = Math.round((2.1 + swing + ajar + 0.35 * normalDeviate(random)) * 10) / 10
      readings.push(
        ReportReadingInput.parse({
          key: sim.db.newId(),
          storeId,
          onDay: day,
          atTime,
          typedCelsius: celsius,
          basis: 'logger',
        }),
      )
    }
  }
  await severalAtOnce(readings, async (input) => {
    mustWork(await reportReading(sim.at(input.onDay, 20), keeper.actor, input), 'read the fridge')
  })
}
