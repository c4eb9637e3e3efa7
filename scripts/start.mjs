import { run } from './run.mjs'

await run('start/start.ts')
