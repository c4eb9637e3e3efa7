import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { PrismaPg } from '@prisma/adapter-pg'
import {
  bindMigrationAwareSqlAdapterFactory,
  ColumnTypeEnum,
  type SqlDriverAdapter,
  type SqlMigrationAwareDriverAdapterFactory,
} from '@prisma/driver-adapter-utils'
import type { SchemaEngine } from '@prisma/schema-engine-wasm/schema_engine_bg'
import * as bindings from '@prisma/schema-engine-wasm/schema_engine_bg'
import { Pool, type QueryConfig, type QueryResult } from 'pg'
import { type MigrationFolder, readSchema } from './migration-folder.ts'

let isLoaded = false

/** Where the engine, when it gives up, looks for somebody to tell. */
const panics = {
  message: '',
  set_message(text: string) {
    panics.message = text
  },
}

/** Prisma's schema engine as WebAssembly: nothing is downloaded. */
async function loadEngine(): Promise<void> {
  if (isLoaded) return
  Object.assign(globalThis, { PRISMA_WASM_PANIC_REGISTRY: panics })
  const glue = createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm/schema_engine_bg')
  const code = readFileSync(join(glue, '..', 'schema_engine_bg.wasm'))
  const { instance } = await WebAssembly.instantiate(code, {
    './schema_engine_bg.js': bindings as unknown as WebAssembly.ModuleImports,
  })
  const loader = bindings as unknown as { __wbg_set_wasm(exports: WebAssembly.Exports): void }
  loader.__wbg_set_wasm(instance.exports)
  const start = instance.exports['__wbindgen_start']
  if (typeof start === 'function') start()
  isLoaded = true
}

/** PostgreSQL refused a migration's script. */
export class ScriptError extends Error {
  override readonly name = 'ScriptError'
  /** The SQLSTATE. */
  readonly code: string

  constructor(refused: Error & { code?: string }) {
    super(`The database refused a change: ${refused.message}`, { cause: refused })
    this.code = refused.code ?? ''
  }
}

/**
 * The adapter cuts scripts at every semicolon, function bodies included. A script sent whole is understood by
 * PostgreSQL, and runs as one transaction besides. The engine keeps no word of what PostgreSQL answers, so
 * `onRefusal` does.
 */
function sendScriptsWhole(
  adapter: SqlDriverAdapter,
  pool: Pool,
  onRefusal: (error: ScriptError) => void,
): SqlDriverAdapter {
  adapter.executeScript = async (script) => {
    try {
      await pool.query(script)
    } catch (error) {
      if (error instanceof Error) onRefusal(new ScriptError(error))
      throw error
    }
  }
  return adapter
}

const internalCharacter = 18
const characterOfFixedLength = 1042
const mark = 'character '

/**
 * The catalogue's one-byte type is unknown to the adapter, which then cannot describe a database at all. Such
 * columns pass the adapter as a type that it knows, under a marked name, and are told apart again behind it.
 */
class DescribablePool extends Pool {
  constructor(databaseUrl: string) {
    super({ connectionString: databaseUrl, max: 2, connectionTimeoutMillis: 10_000 })
    this.on('error', () => {})
    const send = this.query.bind(this) as (query: QueryConfig | string) => Promise<QueryResult>
    const marking = async (query: QueryConfig | string) => {
      const result = await send(query)
      for (const field of result.fields ?? []) {
        if (field.dataTypeID !== internalCharacter) continue
        field.dataTypeID = characterOfFixedLength
        field.name = mark + field.name
      }
      return result
    }
    this.query = marking as typeof this.query
  }
}

function describable(adapter: SqlDriverAdapter): SqlDriverAdapter {
  const ask = adapter.queryRaw.bind(adapter)
  adapter.queryRaw = async (query) => {
    const { columnNames, columnTypes, rows } = await ask(query)
    return {
      columnNames: columnNames.map((name) => (name.startsWith(mark) ? name.slice(mark.length) : name)),
      columnTypes: columnTypes.map((type, i) =>
        columnNames[i]?.startsWith(mark) ? ColumnTypeEnum.Character : type,
      ),
      rows,
    }
  }
  return adapter
}

/** Opens the engine over a database, gives it to `use`, and closes every connection afterwards. */
export async function withSchemaEngine<T>(
  databaseUrl: string,
  folder: MigrationFolder,
  use: (engine: SchemaEngine) => Promise<T>,
): Promise<T> {
  await loadEngine()
  const pool = new DescribablePool(databaseUrl)
  let refusal: ScriptError | null = null
  const plain = new PrismaPg(pool)
  const factory: SqlMigrationAwareDriverAdapterFactory = {
    provider: plain.provider,
    adapterName: plain.adapterName,
    connect: async () =>
      describable(
        sendScriptsWhole(await plain.connect(), pool, (error) => {
          refusal = error
        }),
      ),
    connectToShadowDb: () => plain.connectToShadowDb(),
  }
  try {
    const engine = await bindings.SchemaEngine.new(
      { datamodels: readSchema(folder).map(({ path, content }) => [path, content]) },
      () => {},
      bindMigrationAwareSqlAdapterFactory(factory),
    )
    try {
      return await use(engine)
    } catch (error) {
      if (refusal) throw refusal
      throw error instanceof WebAssembly.RuntimeError ? new Error(panics.message, { cause: error }) : error
    } finally {
      engine.free()
    }
  } finally {
    await pool.end()
  }
}
