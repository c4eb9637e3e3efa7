import { seededRandom } from '#lib/kernel/seeded-random.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { startClaimants, wishesOf } from '#tests/support/claimants.ts'
import { makeRushWorld } from '#tests/support/rush-world.ts'
import type { TestServer } from '#tests/support/test-server.ts'
import { withBenchDatabase } from './bench-database.ts'
import type { BenchResult } from './bench-result.ts'

const options = { members: 500, lots: 40, shares: 12, sticksPerShare: 2, capPerMember: 4, capPerVariety: 2 }

/** 500 members on 40 scarce lots through two server processes: what was claimed over, and what was lost. */
export async function benchRush(server: TestServer): Promise<BenchResult> {
  return withBenchDatabase(server, 'rush', async ({ url, db, owner }) => {
    const world = await makeRushWorld(db, options)
    const people = { groupId: world.group.groupId, memberIds: world.memberIds }
    const offeringIds = world.offerings.map(({ offeringId }) => offeringId)
    const wishes = wishesOf(seededRandom(5), people, offeringIds, { each: 8, newId: db.newId })
    const began = performance.now()
    const servers = [0, 1].map((half) =>
      startClaimants(
        url,
        wishes.filter((_, at) => at % 2 === half),
      ),
    )
    await Promise.all(servers.map((process) => process.ended))
    const seconds = (performance.now() - began) / 1000
    const said = servers.flatMap((process) => process.said)
    const { rows } = await owner.query<{ over: number; lost: number }>(
      `select
        (select coalesce(sum(greatest(0, c.shares - o.shares)), 0)::int from offering o join (
          select group_id, offering_id, sum(shares) as shares from claim where status <> 'cancelled' group by 1, 2) c
          on c.group_id = o.group_id and c.offering_id = o.id) as over,
        (select coalesce(sum(abs(sticks)), 0)::int from (
          select sum(sticks) as sticks from holding group by group_id, lot_id) l) as lost`,
    )
    const faults = await verifyLedger(db)
    return {
      rows: [
        [
          'claims in a rush through two processes, with their start',
          `${wishes.length} in ${seconds.toFixed(1)} s`,
        ],
        ['of these without an answer', String(said.filter((answer) => 'error' in answer).length)],
        ['shares claimed beyond what was offered', String(rows[0]?.over)],
        ['sticks lost', String(rows[0]?.lost)],
        ['faults in the ledger after the rush', String(faults.length)],
      ],
      ratios: {
        overClaims: rows[0]?.over ?? Number.NaN,
        lostSticks: rows[0]?.lost ?? Number.NaN,
        rushFaults: faults.length,
      },
    }
  })
}
