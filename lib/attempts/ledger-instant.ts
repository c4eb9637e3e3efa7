import { type CivilDate, instantIn } from '#lib/kernel/civil-date.ts'

/** The instant under which something of a day is entered in the ledger: noon, or now when noon is still to come. */
export function ledgerInstant(timeZone: string, day: CivilDate, now: Date): Date {
  const noon = instantIn(timeZone, day, 12)
  return noon < now ? noon : now
}
