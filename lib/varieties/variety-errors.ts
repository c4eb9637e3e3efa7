import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import type { VarietyRefusal } from '#lib/varieties/refusals.ts'

/** Makes a reader of database errors: a name that is there already is a refusal, the rest is a defect (null). */
export const varietyRefusalOf =
  (name: string) =>
  (error: unknown): VarietyRefusal | null => {
    const refused = databaseErrorOf(error)
    if (refused?.sqlstate !== '23505') return null
    if (refused.constraint === 'variety_group_id_taxon_key_name_key_key') return { kind: 'name-taken', name }
    if (refused.constraint === 'variety_synonym_group_id_variety_id_name_key_key') {
      return { kind: 'synonym-there', name }
    }
    return null
  }
