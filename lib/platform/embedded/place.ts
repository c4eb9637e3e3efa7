import { type ChildProcess, spawn } from 'node:child_process'
import { mkdirSync, readFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { findBinaries } from './binaries.ts'
import { chooseRunAs, type RunAs } from './run-as.ts'
import { type ServerUser, serverUser } from './system-user.ts'

/** The embedded database could not be had; the message is a sentence for the person who started it. */
export class EmbeddedServerError extends Error {
  override readonly name = 'EmbeddedServerError'
}

/** Where the server's programs and data are, and as whom they run. */
export interface Place {
  readonly folder: string
  readonly logFile: string
  readonly user: ServerUser | null
  readonly runAs: RunAs
  readonly initdb: string
  readonly postgres: string
}

/** Finds both for a data folder, or says why there can be no embedded database here. */
export function findPlace(folder: string): Place {
  const binaries = findBinaries()
  if (!binaries) {
    throw new EmbeddedServerError(
      `There is no embedded database for this machine (${process.platform}, ${process.arch}). Set DATABASE_URL to a PostgreSQL 15–18 server of your own.`,
    )
  }
  const home = dirname(folder)
  mkdirSync(home, { recursive: true })
  const user = serverUser(folder)
  const runAs = chooseRunAs(user, binaries.postgres, home)
  if (!runAs) {
    throw new EmbeddedServerError(
      `The embedded database cannot run from ${home}: PostgreSQL refuses to run as root, and the user it would run as may not enter that folder. Run Tallywood as an ordinary user, or set DATABASE_URL to a server of your own.`,
    )
  }
  return { folder, logFile: `${folder}.log`, user, runAs, ...binaries }
}

/** Starts one of the server's programs, in a process group of its own. */
export function startProgram(
  place: Place,
  file: string,
  args: readonly string[],
  output: number,
): ChildProcess {
  const launch = place.runAs(file, args)
  return spawn(launch.file, [...launch.args], {
    ...launch.user,
    // Its own group, so that Ctrl-C in the terminal reaches the starter alone, which then stops things in order.
    detached: true,
    cwd: '/',
    stdio: ['ignore', output, output],
    env: { ...process.env, LC_ALL: 'C', TZ: 'UTC' },
  })
}

/** Settles when a program has ended: null if all went well, else how it ended. */
export const exitOf = (child: ChildProcess): Promise<string | null> =>
  new Promise((resolve) => {
    child.once('error', (error) => resolve(error.message))
    child.once('exit', (code, signal) => resolve(code === 0 ? null : `exit ${code ?? signal}`))
  })

/** The end of a log, for a sentence about what went wrong. */
export function lastLines(file: string): string {
  return readFileSync(file, 'utf8').trim().split('\n').slice(-4).join('\n')
}
