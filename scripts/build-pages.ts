import { existsSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Child, startNode } from './child.ts'
import { fingerprint, readStamp } from './fingerprint.mjs'
import { root } from './root.ts'
import { Stop, step } from './steps.mjs'

/** All that the built pages are made of. */
const sources = [
  'app',
  'lib',
  'seed',
  'public',
  'prisma/schema',
  'instrumentation.ts',
  'proxy.ts',
  'next.config.ts',
  'postcss.config.mjs',
  'tsconfig.json',
  'package.json',
  'package-lock.json',
]

const stampFile = join(root, '.next', 'tallywood-built')
const next = join(root, 'node_modules', 'next', 'dist', 'bin', 'next')

export const nextProgram = next

/**
 * Builds the pages when a source has changed since they were last built. `onChild` hears of the running build,
 * so that it can be stopped.
 */
export async function ensureBuilt(
  env: NodeJS.ProcessEnv,
  onChild: (child: Child) => void = () => {},
): Promise<void> {
  const stamp = fingerprint(
    root,
    sources,
    [env['NEXT_SERVER_ACTIONS_ENCRYPTION_KEY'] ?? '', process.versions.node.split('.')[0] ?? ''],
    (path) => path !== 'lib/platform/generated',
  )
  if (existsSync(join(root, '.next', 'BUILD_ID')) && readStamp(stampFile) === stamp) return
  await step('Building the pages', async () => {
    rmSync(stampFile, { force: true })
    let said = ''
    const child = startNode([next, 'build'], {
      env: { ...env, NODE_ENV: 'production', NEXT_TELEMETRY_DISABLED: '1' },
      output: 'keep',
      onOutput: (text) => {
        said += text
      },
    })
    onChild(child)
    if ((await child.ended) !== 0) throw new Stop(`The pages could not be built:\n${said.trim()}`)
    writeFileSync(stampFile, `${stamp}\n`)
  })
}
