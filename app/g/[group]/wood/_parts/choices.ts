import { displayCode } from '#app/_ui/code.tsx'
import { formatEpithet } from '#lib/grafting/cultivar-name.ts'
import type { LimbChoice } from '#lib/trees/view.ts'
import type { Choice } from '#lib/wood/words.ts'

/** A choice as the fields of a form take it. */
export interface FieldChoice {
  readonly value: string
  readonly label: string
  readonly group?: string
}

/** Limbs under the people and trees they belong to. */
export function limbOptions(limbs: readonly LimbChoice[]): FieldChoice[] {
  return limbs.map((limb) => {
    const name = limb.varietyName === null ? 'no name' : formatEpithet(limb.varietyName)
    const crop = limb.commonName === null ? '' : `, ${limb.commonName}`
    return {
      value: limb.limbId,
      label: `${limb.mark}: ${name}${crop}${limb.onHold ? ' (on hold)' : ''}`,
      group: `${limb.keeperName}, tree ${displayCode(limb.treeCode)}`,
    }
  })
}

/** A list of words for a select, with the note behind the word. */
export const wordOptions = (choices: readonly Choice<string | number>[]): FieldChoice[] =>
  choices.map(({ value, label, note }) => ({
    value: String(value),
    label: note ? `${label} (${note})` : label,
  }))

/** The same for rows to touch, with the note under the word. */
export const pickOptions = (choices: readonly Choice<string | number>[]) =>
  choices.map(({ value, label, note }) => ({ value: String(value), label, ...(note ? { note } : {}) }))

/** Stores by name, with whoever keeps them. */
export const storeOptions = (
  stores: readonly { readonly id: string; readonly name: string; readonly keeperName: string | null }[],
): FieldChoice[] =>
  stores.map(({ id, name, keeperName }) => ({
    value: id,
    label: keeperName ? `${name}, ${keeperName}` : name,
  }))
