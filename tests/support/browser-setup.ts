import { ensureBuilt } from '../../scripts/build-pages.ts'
import { ensureGenerated } from '../../scripts/generate.mjs'
import { buildSecrets } from '../../scripts/start/secrets.ts'

/** The browser tests use the pages as they are served, so they are built first. */
export default async function setup(): Promise<void> {
  await ensureGenerated()
  await ensureBuilt({ ...process.env, ...buildSecrets() })
}
