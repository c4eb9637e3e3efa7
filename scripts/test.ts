import { ensureBuilt } from './build-pages.ts'
import { ensureGenerated } from './generate.mjs'
import { onShutdown, shutDown, stopOnSignals } from './shutdown.ts'
import { buildSecrets } from './start/secrets.ts'
import { reportAndExit } from './steps.mjs'
import { addSums, runTests, sumLine, type TestSum } from './vitest.ts'

/** All tests: first those that need no pages, then the pages are built, then those in the browser. */
async function runAll(): Promise<TestSum> {
  const first = await runTests(['--project=unit', '--project=ui', '--project=integration'])
  await ensureBuilt({ ...process.env, ...buildSecrets() }, (child) => onShutdown(child.stop))
  return addSums(first, await runTests(['--project=browser']))
}

stopOnSignals(() => 130)
try {
  await ensureGenerated()
  const args = process.argv.slice(2)
  const sum = args.length > 0 ? await runTests(args) : await runAll()
  await shutDown()
  console.log(`\n${sumLine(sum)}`)
  process.exit(sum.failed > 0 ? 1 : 0)
} catch (error) {
  await shutDown()
  reportAndExit(error)
}
