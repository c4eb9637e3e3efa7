import { createHash } from 'node:crypto'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { waterLossPerDayAndKpa } from '#lib/viability/packaging.ts'
import { scenarios } from '#lib/viability/scenarios.ts'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import { dayClock } from '#lib/wood/day-clock.ts'
import { byStore } from '#lib/wood/reading-hours.ts'
import { windowOfLot } from '#lib/wood/window-of-lot.ts'

const hourMs = 3_600_000

/** Windows of every profile in a warm week, under a logger with a hole in it and in an unread fridge, in days. */
function sampleWindows() {
  const clock = dayClock('UTC')
  const cutOn = civilDate('2026-01-10')
  const noon = (day: string) => clock.noon(civilDate(day))
  const [cut, moved, logged, ended] = ['2026-01-10', '2026-01-17', '2026-01-24', '2026-02-28'].map(noon)
  if (!cut || !moved || !logged || !ended) throw new Error('The days of the samples are written above')
  const stays = [
    { storeId: 'shed', storeKind: 'shed', typedCelsius: null, from: cut, to: moved },
    { storeId: 'dial', storeKind: 'cellar', typedCelsius: 6, from: moved, to: logged },
    { storeId: 'logger', storeKind: 'fridge', typedCelsius: null, from: logged, to: ended },
    { storeId: 'fridge', storeKind: 'fridge', typedCelsius: null, from: ended, to: null },
  ] as const
  const hours = [1, 2, 3, 20, 21, 22].map((hour) => {
    const celsius = 2 + hour / 10
    return {
      storeId: 'logger',
      hourMs: logged.getTime() + hour * hourMs,
      lowest: celsius,
      mean: celsius,
      highest: celsius,
      isLogged: true,
    }
  })
  const asOf = { clock, readings: byStore(hours), now: ended }
  return Object.keys(storageProfiles).map((storageProfile) =>
    windowOfLot(
      { kind: 'scion_wood', cutOn, storageProfile, packaging: 'sealed_bag', budStage: 0, stays },
      asOf,
    ),
  )
}

let known: string | null = null

/**
 * A mark of the model that worked a window out: it changes with any constant of the model, and with the windows of
 * some sample histories. A window that was stored under another mark is worked out again before anybody sees it.
 */
export function windowModel(): string {
  known ??= createHash('sha256')
    .update(JSON.stringify([storageProfiles, scenarios, waterLossPerDayAndKpa, sampleWindows()]))
    .digest('hex')
    .slice(0, 16)
  return known
}
