import { run } from './run.mjs'

await run('start/start.ts', { withDevelopment: process.env.NODE_ENV !== 'production' })
