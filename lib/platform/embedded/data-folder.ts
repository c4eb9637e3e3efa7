import {
  chownSync,
  closeSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { EmbeddedServerError, exitOf, lastLines, type Place, startProgram } from './place.ts'
import { watchOver } from './watchdog.ts'

const majorVersion = '18'

/** The owner of everything on the embedded server. */
export const superuser = 'tallywood'

/** Makes the data folder under another name first: a half-made one is never taken for a whole one. */
export async function initialiseFolder(place: Place, password: string): Promise<void> {
  const unfinished = `${place.folder}.unfinished`
  const passwordFile = `${place.folder}.password`
  rmSync(unfinished, { recursive: true, force: true })
  mkdirSync(unfinished, { mode: 0o700 })
  writeFileSync(passwordFile, password, { mode: 0o600 })
  if (place.user) {
    chownSync(unfinished, place.user.uid, place.user.gid)
    chownSync(passwordFile, place.user.uid, place.user.gid)
  }
  const log = openSync(place.logFile, 'w')
  try {
    const child = startProgram(
      place,
      place.initdb,
      [
        `--pgdata=${unfinished}`,
        `--username=${superuser}`,
        `--pwfile=${passwordFile}`,
        '--auth=scram-sha-256',
        '--encoding=UTF8',
        '--locale=C',
        '--locale-provider=icu',
        '--icu-locale=en',
      ],
      log,
    )
    const callOff = child.pid ? watchOver({ pid: child.pid, isGroup: true, signal: 'TERM' }) : () => {}
    const failure = await exitOf(child)
    callOff()
    if (failure) {
      throw new EmbeddedServerError(
        `The embedded database could not be set up in ${place.folder} (${failure}):\n${lastLines(place.logFile)}`,
      )
    }
    renameSync(unfinished, place.folder)
  } finally {
    closeSync(log)
    rmSync(passwordFile, { force: true })
  }
}

/** Refuses a folder that another version wrote. */
export function checkVersion(folder: string): void {
  const found = readFileSync(join(folder, 'PG_VERSION'), 'utf8').trim()
  if (found === majorVersion) return
  throw new EmbeddedServerError(
    `The data in ${folder} were written by PostgreSQL ${found}, but the embedded server is PostgreSQL ${majorVersion}. Move the folder away to begin anew, or run a PostgreSQL ${found} over it and set DATABASE_URL.`,
  )
}

/** Refuses a folder that this user may not open. */
export function checkAccess(folder: string): void {
  const { uid } = statSync(folder)
  const own = process.getuid?.()
  if (own === undefined || own === 0 || own === uid) return
  throw new EmbeddedServerError(
    `The database in ${folder} belongs to another user of this computer. Start Tallywood as that user, or change the owner of the folder.`,
  )
}
