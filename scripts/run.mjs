import { spawn } from 'node:child_process'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { ensureGenerated } from './generate.mjs'
import { ensureInstalled, root } from './install.mjs'
import { reportAndExit } from './steps.mjs'

/**
 * Puts the packages in if need be and then runs one of the TypeScript programs of this folder in a process of
 * its own, as the server does (`react-server` imports), with this one's arguments.
 * @param {string} program such as `start/start.ts`
 * @param {{ withClient?: boolean, args?: readonly string[] }} [options] `withClient` also
 *   writes the database client first, for programs that read it as they begin
 */
export async function run(program, options = {}) {
  try {
    await ensureInstalled()
    if (options.withClient) await ensureGenerated()
  } catch (error) {
    reportAndExit(error)
  }
  const loader = pathToFileURL(join(root, 'node_modules', 'tsx', 'dist', 'loader.mjs')).href
  const child = spawn(
    process.execPath,
    [
      '--conditions=react-server',
      '--import',
      loader,
      join(root, 'scripts', program),
      ...(options.args ?? process.argv.slice(2)),
    ],
    { cwd: root, stdio: 'inherit' },
  )
  // The program below decides what a signal means. It may hear of one twice (Ctrl-C reaches both), which is harmless.
  for (const signal of /** @type {const} */ (['SIGINT', 'SIGTERM', 'SIGHUP'])) {
    process.on(signal, () => child.kill(signal))
  }
  stopWithParent(() => child.kill('SIGTERM'))
  child.on('exit', (code, signal) => process.exit(code ?? (signal === 'SIGINT' ? 130 : 1)))
}

// Called directly: the program is the first argument, and the rest are for it.
if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1]) {
  const [program = '', ...args] = process.argv.slice(2)
  await run(program, { args, withClient: true })
}

/**
 * When npm is killed outright, this program is given another parent, and ends in order.
 * @param {() => void} stop
 */
function stopWithParent(stop) {
  if (!process.env.npm_lifecycle_event) return
  const parent = process.ppid
  setInterval(() => process.ppid !== parent && stop(), 250).unref()
}
