import type { Client } from 'pg'
import type { Database } from '#lib/platform/database/database.ts'
import { inTurn, migrateWith } from '#lib/platform/migrations/apply-migrations.ts'
import { Stop } from '../steps.mjs'

/** Stands in the database for as long as the demo world in it is incomplete. */
const unfinishedMark = 'tallywood_unfinished_demo'

/** Fills an empty, migrated database. */
export type Fill = (
  db: Database,
  options: { readonly now: Date; readonly onProgress: (text: string) => void },
) => Promise<void>

export interface Preparation {
  /** What an empty database is filled with to be a demo; null leaves it empty, to be a group's own. */
  readonly demo: Fill | null
  readonly onProgress: (text: string) => void
}

export interface Prepared {
  readonly migrations: readonly string[]
  readonly isFilledNow: boolean
}

const hasUnfinishedDemo = async (client: Client): Promise<boolean> => {
  const { rows } = await client.query<{ found: boolean }>('select to_regnamespace($1) is not null as found', [
    unfinishedMark,
  ])
  return rows[0]?.found === true
}

const isEmpty = async (client: Client): Promise<boolean> =>
  (await client.query('select from orchard_group limit 1')).rowCount === 0

/** Everything in the database came from a fill that broke off, so everything goes. */
async function emptyDatabase(client: Client): Promise<void> {
  await client.query(
    `begin; drop schema public cascade; create schema public; grant usage on schema public to public; commit`,
  )
}

/** Opens the database as the application does, for as long as `work` takes. */
async function asApplication<T>(url: string, work: (db: Database) => Promise<T>): Promise<T> {
  const { openDatabase } = await import('#lib/platform/database/database.ts')
  const db = openDatabase(url)
  try {
    return await work(db)
  } finally {
    await db.close()
  }
}

async function fillWithDemo(
  client: Client,
  url: string,
  fill: Fill,
  onProgress: Preparation['onProgress'],
): Promise<void> {
  await client.query(`create schema ${unfinishedMark}`)
  await asApplication(url, (db) => fill(db, { now: new Date(), onProgress }))
  await client.query(
    `begin;
     insert into installation (id, is_demo) values (1, true) on conflict (id) do update set is_demo = true;
     drop schema ${unfinishedMark};
     commit`,
  )
}

/**
 * Brings a database and the botanical names in it up to date and, if wanted and it is empty, fills it with the demo
 * world. A fill that broke off is recognised and done again from the start.
 */
export function prepareDatabase(url: string, { demo, onProgress }: Preparation): Promise<Prepared> {
  return inTurn(url, async (client) => {
    if (await hasUnfinishedDemo(client)) {
      if (!demo) {
        throw new Stop(
          'This database holds a demo world whose making broke off. Empty the database (drop it and create it again) before it takes data of your own.',
        )
      }
      onProgress('clearing a fill that broke off')
      await emptyDatabase(client)
      await client.query(`drop schema ${unfinishedMark}`)
    }
    const migrations = await migrateWith(client, url)
    const { loadTaxa } = await import('#seed/reference/load-taxa.ts')
    await asApplication(url, loadTaxa)
    const { projectMissing } = await import('#lib/wood/project-windows.ts')
    await asApplication(url, projectMissing)
    if (!demo || !(await isEmpty(client))) return { migrations, isFilledNow: false }
    await fillWithDemo(client, url, demo, onProgress)
    return { migrations, isFilledNow: true }
  })
}

/** The invented Marrow Lane Orchard Circle. Read only when needed: the database client has to be there by then. */
export const demoWorld: Fill = async (db, options) => {
  const { buildDemoWorld } = await import('#seed/demo/build-demo-world.ts')
  await buildDemoWorld(db, options)
}
