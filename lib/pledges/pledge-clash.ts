import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import type { PledgesRefusal } from '#lib/pledges/refusals.ts'

/** Two people may ask for the same limb at the same moment; the second learns of the first. */
export function pledgeClash(error: unknown): PledgesRefusal | null {
  return databaseErrorOf(error)?.constraint === 'pledge_open_once_for_a_limb'
    ? { kind: 'asked-already', sticks: 0, keeper: 'its keeper' }
    : null
}
