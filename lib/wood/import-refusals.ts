import type { LoggerRefusal } from '#lib/formats/csv/read-logger.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'

/** Why a logger's readings were not imported, or not taken back. */
export type ImportRefusal =
  | LedgerRefusal
  | { readonly kind: 'not-your-store' }
  /** Imported already, thrown away after a day, or somebody else's. */
  | { readonly kind: 'draft-gone' }
  | { readonly kind: 'not-readable'; readonly why: LoggerRefusal }
  | { readonly kind: 'nothing-new'; readonly already: number }
  /** The store has other readings than when the preview was made. */
  | { readonly kind: 'changed-since' }
  | { readonly kind: 'taken-back-already' }
