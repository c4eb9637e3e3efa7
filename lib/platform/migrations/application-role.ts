import type { Client } from 'pg'
import { required } from '#lib/kernel/assert.ts'

/**
 * The role that the application runs as: it owns no table and may not touch the ledger but through its functions. The
 * migrations grant it what it needs and no more.
 */
export const applicationRole = 'tallywood_app'

/** The database's user may not make the application's role; the message holds the SQL for an administrator. */
export class ApplicationRoleError extends Error {
  override readonly name = 'ApplicationRoleError'
}

const codeOf = (error: unknown): string | undefined => (error as { code?: string }).code

/** SQLSTATEs that only mean that another starter on the same server was doing the same. */
const isClash = (error: unknown): boolean =>
  ['42710', '23505', 'XX000', '40001'].includes(codeOf(error) ?? '')

async function isMember(client: Client): Promise<boolean> {
  // From version 16 on, membership alone no longer means that the role can be taken on.
  const { rows } = await client.query<{ is_member: boolean }>(
    `select pg_has_role(current_user, $1,
       case when current_setting('server_version_num')::int >= 160000 then 'SET' else 'MEMBER' end) as is_member`,
    [applicationRole],
  )
  return rows[0]?.is_member === true
}

async function makeRole(client: Client): Promise<void> {
  const { rowCount } = await client.query('select from pg_roles where rolname = $1', [applicationRole])
  if (!rowCount) await client.query(`create role ${applicationRole} nologin`)
  if (!(await isMember(client))) await client.query(`grant ${applicationRole} to current_user`)
  await client.query(`grant usage on schema public to ${applicationRole}`)
}

/**
 * Makes the application's role if it is missing and lets the present user take it on. Roles belong to the whole
 * server, so several databases may be doing this at once; a clash is tried again.
 */
export async function ensureApplicationRole(client: Client): Promise<void> {
  for (let attempt = 1; ; attempt++) {
    try {
      await makeRole(client)
      return
    } catch (error) {
      if (codeOf(error) === '42501') throw await refusal(client)
      if (!isClash(error) || attempt === 10) throw error
      await new Promise((resolve) => setTimeout(resolve, 20 * attempt))
    }
  }
}

async function refusal(client: Client): Promise<ApplicationRoleError> {
  const { rows } = await client.query<{ user: string; database: string; exists: boolean; creates: boolean }>(
    `select quote_ident(current_user) as user, quote_ident(current_database()) as database,
       exists (select from pg_roles where rolname = $1) as exists,
       has_schema_privilege('public', 'create') as creates`,
    [applicationRole],
  )
  const { user, database, exists, creates } = required(rows[0], 'the present user')
  const statements = [
    ...(exists ? [] : [`create role ${applicationRole} nologin;`]),
    `grant ${applicationRole} to ${user};`,
    `grant usage on schema public to ${applicationRole};`,
    ...(creates ? [] : [`grant create on schema public to ${user};`]),
  ]
  return new ApplicationRoleError(
    `The database user ${user} may not set up the role that Tallywood works under. Let an administrator of the server run this once in the database ${database}: ${statements.join(' ')}`,
  )
}
