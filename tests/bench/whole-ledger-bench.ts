import { startTestServer } from '#tests/support/test-server.ts'
import type { BenchResult } from './bench-result.ts'
import { benchDeepHistory } from './deep-history-bench.ts'
import { benchLedger } from './ledger-bench.ts'
import { benchRush } from './rush-bench.ts'

/** Everything that is measured of the ledger: its statement, a rush, and a long history. */
export async function benchWholeLedger(): Promise<BenchResult> {
  const results = [await benchLedger()]
  const server = await startTestServer()
  try {
    for (const part of [benchRush, benchDeepHistory]) results.push(await part(server))
  } finally {
    await server.stop()
  }
  return {
    rows: [
      ...results.flatMap(({ rows }) => rows),
      ['claim through HTTP, p95 against a page that says hello', 'not measured yet'],
    ],
    ratios: Object.assign({ httpClaimP95OverHello: null }, ...results.map(({ ratios }) => ratios)),
  }
}
