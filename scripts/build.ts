import { ensureBuilt } from './build-pages.ts'
import { ensureGenerated } from './generate.mjs'
import { onShutdown, shutDown, stopOnSignals } from './shutdown.ts'
import { buildSecrets } from './start/secrets.ts'
import { reportAndExit } from './steps.mjs'

stopOnSignals(() => 130)
try {
  await ensureGenerated()
  await ensureBuilt({ ...process.env, ...buildSecrets() }, (child) => onShutdown(child.stop))
  await shutDown()
} catch (error) {
  reportAndExit(error)
}
