import { run } from './run.mjs'

await run('check.ts')
