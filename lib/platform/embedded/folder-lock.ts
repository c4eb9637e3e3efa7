import { linkSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { isProcessAlive, processIdentity } from './process-identity.ts'

interface Holder {
  readonly pid: number
  readonly identity: string | null
  /** Where the holder can be found, for the sentence that refuses the second one. */
  readonly address: string
}

export type LockAnswer =
  | { readonly ok: true; readonly release: () => void }
  | { readonly ok: false; readonly holder: Holder }

function readHolder(file: string): Holder | null {
  try {
    return JSON.parse(readFileSync(file, 'utf8')) as Holder
  } catch {
    return null
  }
}

const isHeld = (holder: Holder): boolean =>
  holder.pid !== process.pid &&
  isProcessAlive(holder.pid) &&
  (holder.identity === null || processIdentity(holder.pid) === holder.identity)

/** Takes a lock file for this process. One that a dead process left behind is taken over. */
export function lockFolder(file: string, address: string): LockAnswer {
  mkdirSync(dirname(file), { recursive: true })
  const mine = `${file}.${process.pid}`
  const holder: Holder = { pid: process.pid, identity: processIdentity(process.pid), address }
  writeFileSync(mine, JSON.stringify(holder))
  try {
    for (let attempt = 0; attempt < 3; attempt++) {
      try {
        // A hard link either makes the whole file at once or fails because there is one.
        linkSync(mine, file)
        return { ok: true, release: () => rmSync(file, { force: true }) }
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error
      }
      const found = readHolder(file)
      if (found && isHeld(found)) return { ok: false, holder: found }
      rmSync(file, { force: true })
    }
    throw new Error(`The lock ${file} keeps changing hands`)
  } finally {
    rmSync(mine, { force: true })
  }
}
