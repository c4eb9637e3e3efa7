import { type CivilDate, utcMidnight } from '#lib/kernel/civil-date.ts'

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const

/** A recorded day in a sentence or a mail, whatever the season: "18 Feb 2027". */
export function dayWords(date: CivilDate): string {
  const at = utcMidnight(date)
  return `${at.getUTCDate()} ${months[at.getUTCMonth()]} ${at.getUTCFullYear()}`
}
