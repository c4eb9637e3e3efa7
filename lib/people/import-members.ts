import type { Actor, Role } from '#lib/access/actor.ts'
import {
  type Entry,
  type ImportContext,
  type Importer,
  type ImportFile,
  type ImportOptions,
  type ImportRefusal,
  type ImportReport,
  importFile,
} from '#lib/formats/csv/import-file.ts'
import type { RowReader } from '#lib/formats/csv/row-reader.ts'
import { writeByCommand } from '#lib/formats/csv/write-by-command.ts'
import { cultivarSearchKey } from '#lib/grafting/cultivar-name.ts'
import type { Result } from '#lib/kernel/result.ts'
import { addMember } from '#lib/people/add-member.ts'
import { AddMemberInput } from '#lib/people/input.ts'
import { memberByName } from '#lib/people/member-by-name.ts'
import { peopleRefusalWords } from '#lib/people/refusal-words.ts'
import type { Database } from '#lib/platform/database/database.ts'

type Person = Omit<AddMemberInput, 'key'>

const roles = ['organiser', 'steward', 'helper', 'member'] as const satisfies readonly Role[]

/** The fields of the form by the columns of the file. */
const columnOf: Readonly<Record<string, string>> = { displayName: 'name' }

async function readPeople(
  { tx, actor }: ImportContext,
  rows: readonly RowReader[],
): Promise<readonly Entry<Person>[]> {
  const find = await memberByName(tx, actor.groupId)
  const seen = new Map<string, number>()
  return rows.flatMap((row) => {
    const name = row.filled('name', 80)
    const role = row.oneOf('role', roles, 'member')
    const earlier = seen.get(cultivarSearchKey(name))
    if (name !== '' && find(name).kind !== 'nobody') row.fault('name', `“${name}” is in the group already`)
    else if (name !== '' && earlier !== undefined)
      row.fault('name', `“${name}” stands in line ${earlier} too`)
    seen.set(cultivarSearchKey(name), row.line)
    const fields = {
      phone: row.text('phone', 40),
      email: row.text('email', 254),
      note: row.text('note', 500),
    }
    if (row.faults.length > 0) return []
    const parsed = AddMemberInput.omit({ key: true }).safeParse({ displayName: name, role, ...fields })
    if (parsed.success) return [{ lines: [row.line], value: parsed.data }]
    for (const { path, message } of parsed.error.issues) {
      const field = String(path[0])
      row.fault(columnOf[field] ?? field, message)
    }
    return []
  })
}

const importer: Importer<Person> = {
  kind: 'members',
  read: readPeople,
  write: (context, entries) =>
    writeByCommand(context, entries, {
      run: (db, { key, value }) => addMember(db, context.actor, { key, ...value }),
      words: peopleRefusalWords,
      remark: () => null,
    }),
}

/** Brings people in from a spreadsheet, without accounts: nobody is written to. One row is one person. */
export const importMembers = (
  db: Database,
  actor: Actor,
  file: ImportFile,
  options: ImportOptions,
): Promise<Result<ImportReport, ImportRefusal>> => importFile(db, actor, file, options, importer)
