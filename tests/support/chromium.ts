import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir, userInfo } from 'node:os'
import { dirname, join } from 'node:path'

/** A browser to start, and the folders that it finds libraries and fonts in, if it needs any. */
export interface ChromiumProgram {
  readonly path: string
  readonly env: Readonly<Record<string, string>>
}

const installed = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']
/** False where the program does not even start, for want of a library. */
const starts = (path: string): boolean => spawnSync(path, ['--version'], { stdio: 'ignore' }).status === 0

/**
 * Unpacks the browser of the packages once per version and user. The packages' own unpacking writes to the
 * temporary folder under fixed names and takes a half-written file for a whole one, so it is led to a folder
 * that gets its name only when all is there.
 */
async function unpack(): Promise<string> {
  const require = createRequire(import.meta.url)
  const entry = require.resolve('@sparticuz/chromium')
  const home = join(dirname(entry), '..')
  const { version } = require(join(home, 'package.json')) as { version: string }
  const folder = join(tmpdir(), `tallywood-chromium-${version}-${userInfo().uid}`)
  if (existsSync(folder)) return folder
  const unfinished = `${folder}.${process.pid}`
  const { inflate } = await import('@sparticuz/chromium')
  const before = process.env['TMPDIR']
  mkdirSync(unfinished, { recursive: true, mode: 0o700 })
  process.env['TMPDIR'] = unfinished
  try {
    for (const name of ['chromium.br', 'fonts.tar.br', 'swiftshader.tar.br', 'al2023.tar.br']) {
      await inflate(join(home, 'bin', name))
    }
  } finally {
    if (before === undefined) delete process.env['TMPDIR']
    else process.env['TMPDIR'] = before
  }
  try {
    renameSync(unfinished, folder)
  } catch (error) {
    // Another process was quicker, and its folder is as good.
    rmSync(unfinished, { recursive: true, force: true })
    if (!existsSync(folder)) throw error
  }
  return folder
}

/** The browser named by CHROMIUM_PATH, one that the system has, or the one that comes with the packages. */
export async function findChromium(): Promise<ChromiumProgram> {
  const named = process.env['CHROMIUM_PATH']
  if (named) return { path: named, env: {} }
  const present = installed.find((path) => existsSync(path))
  if (present) return { path: present, env: {} }
  const folder = await unpack()
  const path = join(folder, 'chromium')
  return {
    path,
    env: {
      FONTCONFIG_PATH: join(folder, 'fonts'),
      ...(starts(path) ? {} : { LD_LIBRARY_PATH: join(folder, 'al2023', 'lib') }),
    },
  }
}
