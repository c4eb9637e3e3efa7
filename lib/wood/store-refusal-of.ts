import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import type { WoodRefusal } from '#lib/wood/refusals.ts'

/** What the database refuses of a store: its name, when the group has one of that name. */
export const storeRefusalOf =
  (name: string) =>
  (error: unknown): WoodRefusal | null =>
    databaseErrorOf(error)?.constraint === 'store_group_id_name_key'
      ? { kind: 'name-taken', name }
      : ledgerRefusalOf(error)
