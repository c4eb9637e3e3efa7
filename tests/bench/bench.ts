/**
 * `npm run bench [-- ledger|viability|rates] [--json]`: speed as ratios measured in one run, so that the machine
 * cancels out. With --json the last line is one object per chosen part.
 */
import os from 'node:os'
import { parseArgs } from 'node:util'
import { benchRates } from './rates-bench.ts'
import { benchViability } from './viability-bench.ts'
import { benchWholeLedger } from './whole-ledger-bench.ts'

const parts = { ledger: benchWholeLedger, viability: benchViability, rates: benchRates }

const { positionals, values } = parseArgs({ allowPositionals: true, options: { json: { type: 'boolean' } } })
const wanted = positionals.length > 0 ? positionals : Object.keys(parts)

const isPart = (name: string): name is keyof typeof parts => name in parts

console.log(
  `${os.cpus()[0]?.model ?? 'unknown processor'}, ${os.cpus().length} cores, Node ${process.version}`,
)
for (const name of wanted) {
  if (!isPart(name)) {
    console.error(`There is no benchmark called ${name}. Choose: ${Object.keys(parts).join(', ')}`)
    process.exit(1)
  }
  const { rows, ratios } = await parts[name]()
  console.log(`\n${name}`)
  for (const [what, figure] of rows) console.log(`  ${what.padEnd(64)} ${figure}`)
  if (values.json) console.log(JSON.stringify(ratios))
}
