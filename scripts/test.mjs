import { run } from './run.mjs'

await run('test.ts')
