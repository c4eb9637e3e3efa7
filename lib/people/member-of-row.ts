import type { RowReader } from '#lib/formats/csv/row-reader.ts'
import type { NamedMember } from '#lib/people/member-by-name.ts'

/** The person that a column of a row names; null when it is empty, or a fault was noted. */
export function memberOfRow(
  row: RowReader,
  column: string,
  find: (name: string) => NamedMember,
): string | null {
  const name = row.text(column, 80)
  if (name === '') return null
  const found = find(name)
  if (found.kind === 'found') return found.memberId
  row.fault(
    column,
    found.kind === 'nobody'
      ? `nobody here is called “${name}”; import or add the person first, no account is needed`
      : `several people here are called “${name}”; change one name first`,
  )
  return null
}
