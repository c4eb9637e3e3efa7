import pg from 'pg'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { type Database, openDatabase } from '#lib/platform/database/database.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import { applyMigrations } from '#lib/platform/migrations/apply-migrations.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { startTestServer } from '#tests/support/test-server.ts'
import { type BenchResult, median, throughput } from './bench-result.ts'

const workers = 16
const lotCount = 40
const memberCount = 2_000
const roundMs = 2_000
const rounds = 3
const plenty = 1_000_000

interface Ground {
  readonly db: Database
  readonly owner: pg.Pool
  readonly group: TestGroup
  readonly swapId: string
  readonly offeringIds: readonly string[]
  readonly memberIds: readonly string[]
}

async function prepare(db: Database, owner: pg.Pool): Promise<Ground> {
  const group = await makeGroup(db)
  const swapId = db.newId()
  await db.prisma.swap.create({
    data: {
      groupId: group.groupId,
      id: swapId,
      name: 'Bench',
      place: 'here',
      heldOn: new Date(Date.UTC(2026, 1, 21)),
      status: 'open',
      claimsOpenAt: new Date(Date.now() - 3_600_000),
      claimsCloseAt: new Date(Date.now() + 86_400_000),
      capPerMember: plenty,
      capPerVariety: plenty,
      createdById: group.organiser.memberId,
    },
  })
  const offeringIds: string[] = []
  for (let i = 0; i < lotCount; i++) {
    const lot = await makeLot(db, group, { sticks: plenty })
    const id = db.newId()
    await db.prisma.offering.create({
      data: {
        groupId: group.groupId,
        id,
        swapId,
        lotId: lot.lotId,
        sticksPerShare: 1,
        shares: plenty,
        offeredById: group.organiser.memberId,
        offeredAt: new Date(),
      },
    })
    offeringIds.push(id)
  }
  // Each claim needs a member who has not claimed that lot: enough people that none runs out.
  const memberIds = Array.from({ length: memberCount }, () => db.newId())
  await db.prisma.member.createMany({
    data: memberIds.map((id, i) => ({
      groupId: group.groupId,
      id,
      displayName: `Member ${i}`,
      role: 'member' as const,
      joinedOn: new Date(Date.UTC(2020, 0, 1)),
    })),
  })
  return { db, owner, group, swapId, offeringIds, memberIds }
}

/** A pair of member and offering that has not been used yet. */
function pairs(ground: Ground): () => { memberId: string; offeringId: string } {
  let turn = 0
  return () => {
    // Many people press at once, each for one lot: whoever is at work at the same moment is somebody else.
    const round = Math.floor(turn / memberCount)
    const memberId = ground.memberIds[turn % memberCount]
    const offeringId = ground.offeringIds[(turn + round) % lotCount]
    if (round >= lotCount) throw new Error('The benchmark ran out of members')
    turn++
    if (!offeringId || !memberId) throw new Error('There are members and lots')
    return { memberId, offeringId }
  }
}

async function claimByCommand(ground: Ground, next: ReturnType<typeof pairs>): Promise<void> {
  const { memberId, offeringId } = next()
  const actor = { groupId: ground.group.groupId, memberId, role: 'member' as const }
  const claimed = await claimOffering(ground.db, actor, { key: ground.db.newId(), offeringId, shares: 1 })
  if (!claimed.ok) throw new Error(JSON.stringify(claimed.refusal))
}

async function claimRaw(ground: Ground, next: ReturnType<typeof pairs>): Promise<void> {
  const { memberId, offeringId } = next()
  const { db, group } = ground
  await db.pool.query({
    name: 'claim-shares',
    text: 'select * from claim_shares($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)',
    values: [
      group.groupId,
      db.newId(),
      db.newId(),
      offeringId,
      memberId,
      memberId,
      1,
      null,
      new Date(),
      db.newId(),
      inputHash({ offeringId }),
    ],
  })
}

/** The least that could be called a claim: one counter down, one row in, in one round trip. */
async function claimLeanest(ground: Ground, turn: number): Promise<void> {
  await ground.owner.query({
    name: 'leanest',
    text: `with taken as (update bench_lot set sticks = sticks - 1 where id = $1 and sticks > 0 returning id)
      insert into bench_claim (id, lot_id, member_id) select $2, id, $3 from taken`,
    values: [turn % lotCount, ground.db.newId(), ground.memberIds[0]],
  })
}

/** A pool that was ended takes a moment to leave; thrown out, its connections would complain to nobody. */
async function untilAllLeft(admin: pg.Client, name: string): Promise<void> {
  for (let look = 0; look < 100; look++) {
    const { rowCount } = await admin.query('select from pg_stat_activity where datname = $1', [name])
    if (rowCount === 0) return
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

/** The claim's hot path: the command against its own SQL function, and that against the leanest statement there is. */
export async function benchLedger(): Promise<BenchResult> {
  const server = await startTestServer()
  const name = `tallywood_bench_${process.pid}`
  const admin = new pg.Client({ connectionString: server.url })
  await admin.connect()
  await admin.query(`create database ${name}`)
  const url = new URL(server.url)
  url.pathname = `/${name}`
  try {
    await applyMigrations(url.toString())
    const db = openDatabase(url.toString(), { max: workers })
    const owner = new pg.Pool({ connectionString: url.toString(), max: workers })
    try {
      return await measure(await prepare(db, owner))
    } finally {
      await db.close()
      await owner.end()
    }
  } finally {
    await untilAllLeft(admin, name)
    await admin.query(`drop database ${name} with (force)`)
    await admin.end()
    await server.stop()
  }
}

async function measure(ground: Ground): Promise<BenchResult> {
  const { owner, db } = ground
  await owner.query('create table bench_lot (id int primary key, sticks int not null check (sticks >= 0))')
  await owner.query(
    'create table bench_claim (id uuid primary key, lot_id int not null, member_id uuid not null)',
  )
  await owner.query('insert into bench_lot select i, $1 from generate_series(0, $2::int - 1) i', [
    plenty,
    lotCount,
  ])
  const next = pairs(ground)
  const command: number[] = []
  const raw: number[] = []
  const leanest: number[] = []
  await throughput(workers, roundMs / 2, () => claimByCommand(ground, next))
  for (let round = 0; round < rounds; round++) {
    raw.push(await throughput(workers, roundMs, () => claimRaw(ground, next)))
    command.push(await throughput(workers, roundMs, () => claimByCommand(ground, next)))
    leanest.push(
      await throughput(workers, roundMs, (worker, turn) => claimLeanest(ground, worker + turn * workers)),
    )
  }
  const faults = await verifyLedger(db)
  const { rows } = await owner.query<{ version: string; over: string }>(
    `select current_setting('server_version') as version,
      (select count(*) from offering where shares_claimed > shares) as over`,
  )
  const claimCommandOverRaw = median(command) / median(raw)
  const functionOverLeanest = median(raw) / median(leanest)
  return {
    rows: [
      ['PostgreSQL', rows[0]?.version ?? ''],
      [`claims a second by command, ${workers} connections, ${lotCount} lots`, median(command).toFixed(0)],
      ['claims a second by the SQL function called raw', median(raw).toFixed(0)],
      ['leanest update and insert a second', median(leanest).toFixed(0)],
      ['command over raw (at least 0.8)', claimCommandOverRaw.toFixed(2)],
      ['function over leanest', functionOverLeanest.toFixed(2)],
      ['faults in the ledger afterwards', String(faults.length)],
    ],
    ratios: {
      claimCommandOverRaw: Number(claimCommandOverRaw.toFixed(3)),
      functionOverLeanest: Number(functionOverLeanest.toFixed(3)),
      overClaims: Number(rows[0]?.over ?? 0),
      ledgerFaults: faults.length,
    },
  }
}
