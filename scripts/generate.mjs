/** Writes the typed database client from prisma/schema, when that has changed since the last time. */
import { execFile } from 'node:child_process'
import { existsSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { fingerprint, readStamp } from './fingerprint.mjs'
import { root } from './install.mjs'
import { reportAndExit, Stop, step } from './steps.mjs'

const output = join(root, 'lib', 'platform', 'generated')
const stampFile = join(output, '.stamp')

/** Generates if need be; takes no time when nothing has changed. */
export async function ensureGenerated() {
  const stamp = fingerprint(root, ['prisma/schema', 'prisma.config.ts', 'node_modules/prisma/package.json'])
  if (existsSync(join(output, 'client.ts')) && readStamp(stampFile) === stamp) return
  await step('Writing the database client', async () => {
    try {
      // Generating needs no schema engine, but the command line looks for one and would download it;
      // naming any program that exists keeps it offline.
      await promisify(execFile)(
        process.execPath,
        [join(root, 'node_modules', 'prisma', 'build', 'index.js'), 'generate'],
        {
          cwd: root,
          env: {
            ...process.env,
            PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
            PRISMA_HIDE_UPDATE_MESSAGE: '1',
            CHECKPOINT_DISABLE: '1',
          },
        },
      )
    } catch (error) {
      const said = /** @type {{ stderr?: string, stdout?: string }} */ (error)
      throw new Stop(`The database client could not be written:\n${said.stderr || said.stdout || error}`)
    }
    writeFileSync(stampFile, `${stamp}\n`)
  })
}

if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1]) {
  ensureGenerated().catch(reportAndExit)
}
