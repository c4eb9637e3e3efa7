import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

/** Server code is imported as the server does: `server-only` is a no-op there and throws elsewhere. */
const conditions = ['react-server', 'node', 'development']
const asServer = { resolve: { conditions }, ssr: { resolve: { conditions } } }

const setupFiles = ['tests/support/fail-on-console-error.ts']
const root = fileURLToPath(new URL('.', import.meta.url))

export default defineConfig({
  root,
  test: {
    // A focused test would silence all others.
    allowOnly: false,
    projects: [
      {
        ...asServer,
        test: {
          name: 'unit',
          include: ['tests/unit/**/*.test.ts', 'tests/reference/**/*.test.ts'],
          exclude: ['tests/unit/ui/**', 'tests/reference/**/*.db.test.ts'],
          setupFiles,
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'ui',
          include: ['tests/unit/ui/**/*.test.{ts,tsx}'],
          setupFiles,
        },
      },
      {
        ...asServer,
        test: {
          name: 'integration',
          include: ['tests/integration/**/*.test.ts', 'tests/reference/**/*.db.test.ts'],
          globalSetup: ['tests/support/global-setup.ts'],
          setupFiles,
          testTimeout: 60_000,
          hookTimeout: 120_000,
        },
      },
      {
        ...asServer,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: ['tests/support/global-setup.ts', 'tests/support/browser-setup.ts'],
          setupFiles,
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 240_000,
        },
      },
    ],
  },
})
