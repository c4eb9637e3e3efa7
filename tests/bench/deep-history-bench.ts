import { required } from '#lib/kernel/assert.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { getLot } from '#lib/wood/queries.ts'
import { type DeepHistory, makeDeepHistory } from '#tests/support/deep-history.ts'
import type { TestServer } from '#tests/support/test-server.ts'
import { withBenchDatabase } from './bench-database.ts'
import { type BenchResult, median } from './bench-result.ts'

const shallow = { lots: 10, movesPerLot: 50, movesOfLongest: 500 }
const deep = { lots: 10_000, movesPerLot: 50, movesOfLongest: 500_000 }
const looks = 60

interface Place {
  readonly db: Database
  readonly history: DeepHistory
}

async function msOf(work: () => Promise<unknown>): Promise<number> {
  const began = performance.now()
  await work()
  return performance.now() - began
}

const pageOf =
  ({ db, history }: Place, code: string) =>
  async () => {
    required(await getLot(db, history.group.organiser, code), 'the lot')
  }

const holdingsOf =
  ({ db, history }: Place) =>
  async () => {
    await db.pool.query({
      name: 'bench-holdings',
      text: 'select account, sticks from holding where group_id = $1 and lot_id = $2',
      values: [history.group.groupId, history.longest.lotId],
    })
  }

/** The middle of many looks at each place in turns, after a few that warm up. */
async function compared(atShallow: () => Promise<unknown>, atDeep: () => Promise<unknown>) {
  const times: { shallow: number[]; deep: number[] } = { shallow: [], deep: [] }
  for (let look = -5; look < looks; look++) {
    const pair = [await msOf(atShallow), await msOf(atDeep)] as const
    if (look < 0) continue
    times.shallow.push(pair[0])
    times.deep.push(pair[1])
  }
  const [few, many] = [median(times.shallow), median(times.deep)]
  return { few, many, ratio: many / few }
}

/** A lot's page and its holdings with a thousand moves in the ledger, and with a million. */
export async function benchDeepHistory(server: TestServer): Promise<BenchResult> {
  return withBenchDatabase(server, 'shallow', (one) =>
    withBenchDatabase(server, 'deep', async (other) => {
      const at = { db: one.db, history: await makeDeepHistory(one.db, one.owner, shallow) }
      const below = { db: other.db, history: await makeDeepHistory(other.db, other.owner, deep) }
      const { rows } = await other.owner.query<{ moves: number }>('select count(*)::int as moves from move')
      const codeOf = ({ history }: Place) => required(history.lots[0], 'a lot').code
      const typical = await compared(pageOf(at, codeOf(at)), pageOf(below, codeOf(below)))
      const longest = await compared(
        pageOf(at, at.history.longest.code),
        pageOf(below, below.history.longest.code),
      )
      const holdings = await compared(holdingsOf(at), holdingsOf(below))
      const worst = Math.max(typical.ratio, longest.ratio, holdings.ratio)
      const say = ({ few, many, ratio }: typeof typical) =>
        `${few.toFixed(1)} ms, ${many.toFixed(1)} ms: ${ratio.toFixed(2)}`
      return {
        rows: [
          ['moves in the deep ledger', String(rows[0]?.moves ?? 0)],
          ['page of a lot of 50 moves, at 1,000 moves and deep', say(typical)],
          ['page of the longest lot (500 and 500,000 moves)', say(longest)],
          ['holdings of a lot', say(holdings)],
        ],
        ratios: { deepHistoryOverShallow: Number(worst.toFixed(3)) },
      }
    }),
  )
}
