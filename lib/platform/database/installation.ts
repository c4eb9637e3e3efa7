import type pg from 'pg'

export interface Installation {
  /** True over the invented demo world, where anybody may sign in as anybody. */
  readonly isDemo: boolean
}

/** What this database is. An installation that says nothing is a group's own. */
export async function readInstallation(pool: pg.Pool): Promise<Installation> {
  const { rows } = await pool.query<{ is_demo: boolean }>('select is_demo from installation')
  return { isDemo: rows[0]?.is_demo ?? false }
}
