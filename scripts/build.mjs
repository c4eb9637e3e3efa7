import { run } from './run.mjs'

await run('build.ts', { withDevelopment: process.env.NODE_ENV !== 'production' })
