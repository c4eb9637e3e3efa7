import { randomBytes } from 'node:crypto'
import { chmodSync, existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { z } from 'zod'
import { root } from '../root.ts'
import { Stop } from '../steps.mjs'

/** Where this checkout keeps its own data: the embedded database and the secrets made for it. */
export const dataFolder = join(root, '.data')

const Secrets = z.object({
  databasePassword: z.string().min(16),
  nextAuthSecret: z.string().min(32),
  serverActionsKey: z.string().min(32),
})

export type Secrets = z.infer<typeof Secrets>

/** The secrets of this checkout, made the first time and kept in a file that only its owner can read. */
export function localSecrets(): Secrets {
  const file = join(dataFolder, 'secrets.json')
  if (existsSync(file)) {
    const known = Secrets.safeParse(readJson(file))
    if (known.success) return known.data
    throw new Stop(
      `${file} is damaged. Put it back from a backup, or remove the folder ${dataFolder} to begin anew.`,
    )
  }
  const made: Secrets = {
    databasePassword: randomBytes(24).toString('base64url'),
    nextAuthSecret: randomBytes(32).toString('base64'),
    serverActionsKey: randomBytes(32).toString('base64'),
  }
  mkdirSync(dataFolder, { recursive: true })
  const unfinished = `${file}.${process.pid}`
  writeFileSync(unfinished, `${JSON.stringify(made, null, 2)}\n`, { mode: 0o600 })
  chmodSync(unfinished, 0o600)
  renameSync(unfinished, file)
  return made
}

function readJson(file: string): unknown {
  try {
    return JSON.parse(readFileSync(file, 'utf8'))
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EACCES') {
      throw new Stop(`${file} belongs to another user of this computer. Start Tallywood as that user.`)
    }
    return null
  }
}

/** The key that pages are built with: the one given, else this checkout's own. */
export const buildSecrets = (): { NEXT_SERVER_ACTIONS_ENCRYPTION_KEY: string } => ({
  NEXT_SERVER_ACTIONS_ENCRYPTION_KEY:
    process.env['NEXT_SERVER_ACTIONS_ENCRYPTION_KEY'] ?? localSecrets().serverActionsKey,
})
