import { monthName } from '#app/_ui/dates.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

/** "Aug 2026": as much of a day as a label has room for. */
export const monthAndYear = (date: CivilDate): string => `${monthName(date)} ${date.slice(0, 4)}`
