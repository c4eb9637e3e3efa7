import type { LoggerRefusal } from '#lib/formats/csv/read-logger.ts'
import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'
import type { ImportRefusal } from '#lib/wood/import-refusals.ts'

/** Says in words why a logger's file cannot be read. */
function loggerRefusalWords(refusal: LoggerRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'empty-file':
      return { message: 'There is nothing in this file.', next: ['Export it from the logger again, as CSV.'] }
    case 'not-a-table':
      return {
        message: `This file is no table: line ${refusal.line} cannot be read (${refusal.why}).`,
        next: [
          'Export it from the logger again, as CSV or text.',
          'Open it in a spreadsheet and save it as CSV.',
        ],
      }
    case 'no-rows':
      return {
        message: 'This file has a heading and no readings below it.',
        next: ['Export it from the logger again, with its readings.'],
      }
    case 'too-many-rows':
      return {
        message: `This file has ${refusal.rows} rows; at most ${refusal.most} are read at once.`,
        next: ['Export a shorter time, or one reading in ten minutes.'],
      }
    case 'questions':
      return {
        message: 'Something about this file has to be answered first.',
        next: ['Answer the questions above, then look at the readings again.'],
      }
  }
}

/** Says in words why readings were not imported, or not taken back. */
export function importRefusalWords(refusal: ImportRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'not-your-store':
      return {
        message: 'This store is somebody else’s.',
        next: ['Ask its keeper, a helper or the organiser.'],
      }
    case 'draft-gone':
      return {
        message: 'This file is no longer waiting: it was imported, or a day has passed.',
        next: [
          'See under Imports on the store’s page whether its readings are there.',
          'Bring the file again.',
        ],
      }
    case 'not-readable':
      return loggerRefusalWords(refusal.why)
    case 'nothing-new':
      return {
        message:
          refusal.already === 0
            ? 'No row of this file could be read, so there is nothing to import.'
            : 'Every reading of this file is in the store already. Nothing was changed.',
        next: ['Go back to the store.'],
      }
    case 'changed-since':
      return {
        message: 'The store’s readings have changed since this was shown, so nothing was imported.',
        next: ['Look at the file again below, then import it.'],
      }
    case 'taken-back-already':
      return {
        message: 'This import was taken back already.',
        next: ['Bring the file again if you need it.'],
      }
    default:
      return ledgerRefusalWords(refusal)
  }
}
