import { execFileSync } from 'node:child_process'
import { existsSync, readFileSync, statSync } from 'node:fs'

/** The user that the database server runs as. PostgreSQL refuses to run as root. */
export interface ServerUser {
  readonly uid: number
  readonly gid: number
}

function fromPasswordFile(name: string): ServerUser | null {
  const line = readFileSync('/etc/passwd', 'utf8')
    .split('\n')
    .find((entry) => entry.startsWith(`${name}:`))
  const [, , uid, gid] = line?.split(':') ?? []
  return uid && gid ? { uid: Number(uid), gid: Number(gid) } : null
}

function createUser(name: string): ServerUser | null {
  try {
    execFileSync('useradd', ['--system', '--user-group', '--no-create-home', name], { stdio: 'ignore' })
    return fromPasswordFile(name)
  } catch {
    // Small systems have no useradd; the caller has another user to fall back on.
    return null
  }
}

/**
 * Null when this process is not root and simply runs the server itself. For root: the owner of the data when
 * there are some, else the system user `postgres` (made if missing), else `nobody`.
 */
export function serverUser(dataFolder: string): ServerUser | null {
  if (process.getuid?.() !== 0) return null
  if (existsSync(dataFolder)) {
    const { uid, gid } = statSync(dataFolder)
    if (uid !== 0) return { uid, gid }
  }
  const user = fromPasswordFile('postgres') ?? createUser('postgres') ?? fromPasswordFile('nobody')
  if (!user) throw new Error('This system has no user besides root that the embedded database could run as')
  return user
}
