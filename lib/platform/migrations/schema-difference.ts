import { type MigrationFolder, readSchema, repositoryFolder } from './migration-folder.ts'
import { withSchemaEngine } from './schema-engine.ts'

/**
 * The SQL that would turn a migrated database into what the schema files describe; null when it already is.
 * Constraints, triggers and functions that Prisma cannot describe are neither seen nor removed.
 */
export async function schemaDifference(
  databaseUrl: string,
  folder: MigrationFolder = repositoryFolder(),
): Promise<string | null> {
  return withSchemaEngine(databaseUrl, folder, async (engine) => {
    const files = readSchema(folder)
    const difference = await engine.diff({
      from: { tag: 'schemaDatasource', files, configDir: folder.path },
      to: { tag: 'schemaDatamodel', files },
      script: true,
      exitCode: true,
      filters: { externalTables: [], externalEnums: [] },
    })
    return difference.exitCode === 2 ? (difference.stdout ?? '') : null
  })
}
