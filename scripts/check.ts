import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { startNode } from './child.ts'
import { ensureGenerated } from './generate.mjs'
import { root } from './root.ts'
import { isStopping, onShutdown, shutDown, stopOnSignals } from './shutdown.ts'
import { Stop, seconds, step } from './steps.mjs'
import { runTests, sumLine } from './vitest.ts'

const program = (...parts: string[]) => join(root, 'node_modules', ...parts)

/** Runs a program of the packages; what it says is shown when it fails. */
async function runQuietly(args: readonly string[]): Promise<void> {
  let said = ''
  const child = startNode(args, {
    output: 'keep',
    onOutput: (text) => {
      said += text
    },
  })
  onShutdown(child.stop)
  if ((await child.ended) !== 0) throw new Stop(said.trim())
}

const filesBelow = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))

/** One file tells the application what it was told from outside; everything else asks that file. */
function checkEnvironmentReaders(): void {
  const reader = join(root, 'lib', 'platform', 'env.ts')
  // The embedded server hands its surroundings on to the programs that it starts.
  const starters = join(root, 'lib', 'platform', 'embedded')
  const others = ['app', 'lib', 'seed']
    .flatMap(filesBelow)
    .filter((file) => file !== reader && !file.startsWith(starters))
    .filter((file) => !file.includes(join('lib', 'platform', 'generated')))
    .filter((file) =>
      /process\s*\.\s*env|process\s*\[\s*['"]env|from 'node:process'/.test(readFileSync(file, 'utf8')),
    )
  if (others.length > 0)
    throw new Stop(`process.env is read outside lib/platform/env.ts:\n${others.join('\n')}`)
}

const staticSteps: readonly (readonly [string, () => void | Promise<void>])[] = [
  ['Database client', ensureGenerated],
  ['Types of the routes', () => runQuietly([program('next', 'dist', 'bin', 'next'), 'typegen'])],
  [
    'Style (biome)',
    () => runQuietly([program('@biomejs', 'biome', 'bin', 'biome'), 'ci', '--colors=off', '.']),
  ],
  ['Types (tsc)', () => runQuietly([program('typescript', 'bin', 'tsc'), '--noEmit', '-p', '.'])],
  ['Who imports whom', () => runQuietly([join(root, 'scripts', 'import-rules.mjs')])],
  ['What nothing uses (knip)', () => runQuietly([program('knip', 'bin', 'knip.js'), '--no-progress'])],
  ['Who reads the environment', checkEnvironmentReaders],
]

const began = Date.now()
const failed: string[] = []
stopOnSignals(() => 130)

for (const [title, work] of staticSteps) {
  try {
    await step(title, work)
  } catch (error) {
    failed.push(title)
    console.error(error instanceof Stop ? error.message : error)
  }
}

if (!process.argv.includes('--static') && !isStopping()) {
  const sum = await step('Tests', () => runTests(['--project=unit', '--project=ui', '--project=integration']))
  console.log(sumLine(sum))
  if (sum.failed > 0) failed.push('Tests')
}

await shutDown()
if (failed.length > 0) {
  console.error(`\n${failed.length} of the checks failed: ${failed.join(', ')} (${seconds(began)})`)
  process.exit(1)
}
console.log(`\nAll checks passed (${seconds(began)})`)
