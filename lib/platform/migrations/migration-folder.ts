import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { MigrationList, SchemaContainer } from '@prisma/schema-engine-wasm/schema_engine_bg'

/** The folder that holds `schema/` and `migrations/`. */
export interface MigrationFolder {
  readonly path: string
}

/** This repository's own. The programs that migrate are started in its root. */
export const repositoryFolder = (): MigrationFolder => ({ path: join(process.cwd(), 'prisma') })

/** The schema files, in name order. */
export function readSchema({ path }: MigrationFolder): SchemaContainer[] {
  const folder = join(path, 'schema')
  return readdirSync(folder)
    .filter((name) => name.endsWith('.prisma'))
    .sort()
    .map((name) => ({ path: join(folder, name), content: readFileSync(join(folder, name), 'utf8') }))
}

/** The migrations in the order in which they are applied, in the engine's shape. */
export function readMigrations({ path }: MigrationFolder): MigrationList {
  const baseDir = join(path, 'migrations')
  const lockfile = join(baseDir, 'migration_lock.toml')
  const names = readdirSync(baseDir, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort()
  return {
    baseDir,
    lockfile: {
      path: 'migration_lock.toml',
      content: existsSync(lockfile) ? readFileSync(lockfile, 'utf8') : null,
    },
    shadowDbInitScript: '',
    migrationDirectories: names.map((name) => ({
      path: name,
      migrationFile: {
        path: 'migration.sql',
        content: { tag: 'ok', value: readFileSync(join(baseDir, name, 'migration.sql'), 'utf8') },
      },
    })),
  }
}

/** The names of the migrations in the folder, oldest first. */
export const migrationNames = (folder: MigrationFolder = repositoryFolder()): string[] =>
  readMigrations(folder).migrationDirectories.map(({ path }) => path)
