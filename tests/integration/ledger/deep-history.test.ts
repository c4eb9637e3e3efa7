import pg from 'pg'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { required } from '#lib/kernel/assert.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { type Database, openDatabase } from '#lib/platform/database/database.ts'
import { getLot } from '#lib/wood/queries.ts'
import { testDatabase } from '#tests/support/database.ts'
import { type DeepHistory, makeDeepHistory } from '#tests/support/deep-history.ts'

const database = testDatabase()
const moves = { lots: 400, movesPerLot: 100, movesOfLongest: 10_000 }

let history: DeepHistory
let owner: pg.Client

beforeAll(async () => {
  owner = new pg.Client({ connectionString: database.url })
  await owner.connect()
  history = await makeDeepHistory(database.db, owner, moves)
})
afterAll(() => owner.end())

interface Sent {
  readonly text: string
  readonly values: readonly unknown[]
}

/** Every statement that `work` sends to the database. */
async function statementsOf(work: (db: Database) => Promise<unknown>): Promise<readonly Sent[]> {
  const db = openDatabase(database.url, { max: 1 })
  const sent: Sent[] = []
  db.pool.on('connect', (client) => {
    const query = client.query.bind(client) as (...args: unknown[]) => unknown
    const spy = (statement: string | Sent, values?: readonly unknown[], ...rest: unknown[]) => {
      const text = typeof statement === 'string' ? statement : statement.text
      sent.push({ text, values: values ?? (typeof statement === 'string' ? [] : (statement.values ?? [])) })
      return query(statement, values, ...rest)
    }
    client.query = spy as typeof client.query
  })
  await work(db)
  await db.close()
  return sent
}

interface PlanNode {
  readonly 'Node Type': string
  readonly 'Relation Name'?: string
  readonly 'Index Name'?: string
  readonly Plans?: readonly PlanNode[]
}

const nodesOf = (node: PlanNode): PlanNode[] => [node, ...(node.Plans ?? []).flatMap(nodesOf)]

/** The steps of the plan of a statement that touch moves or holdings. */
async function touching({ text, values }: Sent): Promise<PlanNode[]> {
  const { rows } = await owner.query<{ 'QUERY PLAN': readonly { readonly Plan: PlanNode }[] }>(
    `explain (format json) ${text}`,
    [...values],
  )
  const plan = required(rows[0]?.['QUERY PLAN'][0], 'a plan').Plan
  return nodesOf(plan).filter((node) => ['move', 'holding'].includes(node['Relation Name'] ?? ''))
}

const placesOf = async (statements: readonly Sent[]): Promise<PlanNode[]> => {
  const nodes: PlanNode[] = []
  for (const statement of statements) {
    if (/^\s*select/i.test(statement.text)) nodes.push(...(await touching(statement)))
  }
  return nodes
}

describe('with 50,000 moves behind it', () => {
  test('the ledger is true', async () => {
    const { rows } = await owner.query<{ moves: number }>('select count(*)::int as moves from move')
    expect(rows[0]?.moves).toBeGreaterThan(50_000)
    expect(await verifyLedger(database.db)).toEqual([])
  })

  test.each(['typical', 'longest'] as const)(
    'the page of a %s lot goes by index to its moves and holdings',
    async (which) => {
      const lot = which === 'longest' ? history.longest : required(history.lots[3], 'a lot')
      const statements = await statementsOf((db) => getLot(db, history.group.organiser, lot.code))
      const nodes = await placesOf(statements)
      const relations = new Set(nodes.map((node) => node['Relation Name']))
      expect([...relations].sort()).toEqual(['holding', 'move'])
      expect(nodes.filter((node) => node['Node Type'] === 'Seq Scan')).toEqual([])
      const indexes = new Set(nodes.map((node) => node['Index Name']))
      expect(indexes).toContain('move_group_id_lot_id_seq_idx')
      expect(indexes).toContain('holding_pkey')
    },
  )

  test('a long story is shown by pages that lead through all of it', async () => {
    const { db } = database
    const { group, longest } = history
    const latest = required(await getLot(db, group.organiser, longest.code), 'the lot')
    expect(latest.moves).toHaveLength(100)
    expect(latest.moves.at(-1)).toMatchObject({ kind: 'bring_back', freeAfter: 20 })
    expect(latest.sums.free).toBe(20)

    const before = required(
      await getLot(db, group.organiser, longest.code, latest.earlierUpTo ?? ''),
      'the lot',
    )
    expect(before.moves.at(-1)?.moveId).toBe(latest.earlierUpTo)
    expect(before.moves.map(({ freeAfter }) => freeAfter)).toEqual(
      latest.moves.map(({ freeAfter }) => freeAfter),
    )

    let pages = 1
    let page = latest
    while (page.earlierUpTo) {
      page = required(await getLot(db, group.organiser, longest.code, page.earlierUpTo), 'the lot')
      pages++
    }
    expect(pages).toBe(Math.ceil((moves.movesOfLongest + 1) / 100))
    expect(page.moves[0]).toMatchObject({ kind: 'cut', freeAfter: 20 })
  })

  test('an entry of another lot leads to the latest ones', async () => {
    const { group, longest, lots } = history
    const other = required(
      await getLot(database.db, group.organiser, required(lots[0], 'a lot').code),
      'a lot',
    )
    const view = required(
      await getLot(database.db, group.organiser, longest.code, other.moves[0]?.moveId),
      'the lot',
    )
    expect(view.moves.at(-1)).toMatchObject({ kind: 'bring_back' })
    expect(view.moves).toHaveLength(100)
  })
})
