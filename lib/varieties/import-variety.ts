import type { ImportContext } from '#lib/formats/csv/import-file.ts'
import type { RowReader } from '#lib/formats/csv/row-reader.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import type { Result } from '#lib/kernel/result.ts'
import { joinTransaction } from '#lib/platform/database/join-transaction.ts'
import { addVariety } from '#lib/varieties/add-variety.ts'
import { AddVarietyInput } from '#lib/varieties/input.ts'
import type { VarietyRefusal } from '#lib/varieties/refusals.ts'
import type { NamedVariety } from '#lib/varieties/variety-by-name.ts'

/** The variety of a row: one of the group's, or one that the import adds. */
export type RowVariety =
  | { readonly kind: 'known'; readonly varietyId: string }
  | { readonly kind: 'new'; readonly taxonKey: string; readonly name: string }

/** Reads the columns `variety` and `crop` of a row; null when it names none, or a fault was noted. */
export function varietyOfRow(
  row: RowReader,
  find: (name: string, crop: string) => NamedVariety,
  createVarieties: boolean,
): RowVariety | null {
  const name = row.text('variety', 100)
  if (name === '') return null
  const found = find(name, row.text('crop', 100))
  if (found.kind === 'found') return { kind: 'known', varietyId: found.varietyId }
  if (found.kind === 'several') {
    row.fault(
      'variety',
      `“${name}” is there as ${found.crops.join(' and as ')}: say which in a column “crop”`,
    )
  } else if (found.kind === 'no-such-crop') {
    const near = found.near.length > 0 ? `; near: ${found.near.join(', ')}` : ''
    row.fault('crop', `no kind of fruit is called “${row.text('crop', 100)}”${near}`)
  } else if (!createVarieties) {
    row.fault('variety', `“${name}” is not in the list of varieties; add it, or use --create-varieties`)
  } else if (found.taxonKey === null) {
    row.fault('variety', `“${name}” is new, so the column “crop” must say what kind of fruit it is`)
  } else {
    return { kind: 'new', taxonKey: found.taxonKey, name }
  }
  return null
}

/** Adds the new varieties of an import, each once, and says under which id each row's variety stands. */
export async function addNewVarieties(
  { db, tx, actor }: Pick<ImportContext, 'db' | 'tx' | 'actor'>,
  varieties: readonly RowVariety[],
): Promise<{ readonly idOf: (variety: RowVariety) => string; readonly added: readonly string[] }> {
  const joined = joinTransaction(db, tx)
  const keyOf = (taxonKey: string, name: string) => `${taxonKey} ${cultivarSearchKey(name)}`
  const ids = new Map<string, string>()
  const added: string[] = []
  for (const variety of varieties) {
    if (variety.kind === 'known' || ids.has(keyOf(variety.taxonKey, variety.name))) continue
    const { taxonKey, name } = variety
    const input = AddVarietyInput.parse({ key: db.newId(), taxonKey, name })
    const result: Result<{ varietyId: string }, VarietyRefusal> = await addVariety(joined, actor, input)
    if (!result.ok) throw new Error(`The variety ${name} was looked for, not found, and then refused`)
    ids.set(keyOf(taxonKey, name), result.value.varietyId)
    added.push(input.name)
  }
  const idOf = (variety: RowVariety) => {
    const id = variety.kind === 'known' ? variety.varietyId : ids.get(keyOf(variety.taxonKey, variety.name))
    if (id === undefined) throw new Error('A variety of the file was not added')
    return id
  }
  return { idOf, added }
}
