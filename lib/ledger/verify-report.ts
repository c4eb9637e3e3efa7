import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { formatCode } from '#lib/grafting/codes.ts'
import { required } from '#lib/kernel/assert.ts'
import { type LedgerFault, verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { faultSentence } from '#lib/ledger/verify-words.ts'
import type { Database } from '#lib/platform/database/database.ts'

/** How much was looked at. */
export interface VerifiedCounts {
  readonly lots: number
  readonly moves: number
  readonly claims: number
}

/** One thing that is wrong, in words. */
export interface NamedFault {
  /** The lot that it is about; null when it is about none, or about several. */
  readonly lotCode: string | null
  /** Which lot, tree or person: what the sentence begins with. */
  readonly about: string
  readonly sentence: string
}

/** What a group's ledger was found to be. */
export interface GroupReport {
  readonly slug: string
  readonly name: string
  readonly counts: VerifiedCounts
  readonly faults: readonly NamedFault[]
}

const uuidPattern = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g

interface Named {
  readonly words: string
  readonly lotCode: string | null
}

/** What the keys in some faults stand for. What has no name any more keeps its key. */
async function namesOf(db: Database, faults: readonly LedgerFault[]): Promise<ReadonlyMap<string, Named>> {
  const ids = [
    ...new Set(faults.flatMap(({ subject, detail }) => `${subject} ${detail}`.match(uuidPattern) ?? [])),
  ]
  if (ids.length === 0) return new Map()
  const { rows } = await db.pool.query<{ id: string; kind: string; name: string; code: string | null }>(
    `select id, 'lot' as kind, code as name, code from lot where id = any($1::uuid[])
      union all
      select o.id, 'offering', s.name, l.code from offering o
        left join lot l on l.group_id = o.group_id and l.id = o.lot_id
        left join swap s on s.group_id = o.group_id and s.id = o.swap_id where o.id = any($1::uuid[])
      union all
      select c.id, 'claim', m.display_name, l.code from claim c
        left join lot l on l.group_id = c.group_id and l.id = c.lot_id
        left join member m on m.group_id = c.group_id and m.id = c.member_id where c.id = any($1::uuid[])
      union all
      select a.id, 'graft', m.display_name, l.code from attempt a
        left join lot l on l.group_id = a.group_id and l.id = a.lot_id
        left join member m on m.group_id = a.group_id and m.id = a.grower_id where a.id = any($1::uuid[])
      union all
      select b.id, 'limb', b.mark || ' ' || coalesce(t.code, ''), null from limb b
        left join tree t on t.group_id = b.group_id and t.id = b.tree_id where b.id = any($1::uuid[])
      union all
      select id, 'member', display_name, null from member where id = any($1::uuid[])
      union all
      select id, 'variety', name, null from variety where id = any($1::uuid[])`,
    [ids],
  )
  return new Map(
    rows.map(({ id, kind, name, code }) => [id, { words: nameInWords(kind, name, code), lotCode: code }]),
  )
}

function nameInWords(kind: string, name: string | null, code: string | null): string {
  const ofLot = code ? `lot ${formatCode(code)}` : 'a lot that is not there'
  switch (kind) {
    case 'lot':
      return ofLot
    case 'offering':
      return `${ofLot} in ${name ?? 'a swap that is not there'}`
    case 'claim':
      return `${name ?? 'somebody'}’s claim on ${ofLot}`
    case 'graft':
      return `${name ?? 'somebody'}’s graft${code ? ` with wood of ${ofLot}` : ''}`
    case 'limb': {
      const [mark = '', tree = ''] = (name ?? '').split(' ')
      return tree ? `limb ${mark} of tree ${formatCode(tree)}` : `limb ${mark}`
    }
    case 'variety':
      return `‘${name ?? ''}’`
    default:
      return name ?? ''
  }
}

/** Says what is wrong in words, with the codes of lots and trees and the names of people in place of keys. */
async function nameFaults(db: Database, faults: readonly LedgerFault[]): Promise<NamedFault[]> {
  const names = await namesOf(db, faults)
  const withNames = (text: string) => text.replace(uuidPattern, (id) => names.get(id)?.words ?? id)
  return faults.map((fault) => {
    const [id = ''] = fault.subject.match(uuidPattern) ?? []
    return {
      lotCode: names.get(id)?.lotCode ?? null,
      about: withNames(fault.subject),
      sentence: faultSentence(fault.fault, withNames(fault.detail)),
    }
  })
}

/** Looks at the ledger of one group, or of every group, and says what it found in each. */
export async function verifyGroups(db: Database, groupId: string | null = null): Promise<GroupReport[]> {
  const faults = await verifyLedger(db, groupId)
  const { rows } = await db.pool.query<
    { id: string; slug: string; name: string } & Record<keyof VerifiedCounts, number>
  >(
    `select g.id, g.slug, g.name,
        (select count(*)::int from lot l where l.group_id = g.id) as lots,
        (select count(*)::int from move v where v.group_id = g.id) as moves,
        (select count(*)::int from claim c where c.group_id = g.id) as claims
      from orchard_group g where $1::uuid is null or g.id = $1 order by g.slug`,
    [groupId],
  )
  const reports: GroupReport[] = []
  for (const { id, slug, name, lots, moves, claims } of rows) {
    const own = faults.filter((fault) => fault.groupId === id)
    reports.push({ slug, name, counts: { lots, moves, claims }, faults: await nameFaults(db, own) })
  }
  return reports
}

/** What is found in the actor's own group; null for those who do not keep its settings. */
export async function checkOwnLedger(db: Database, actor: Actor): Promise<GroupReport | null> {
  if (!can(actor, 'change-settings')) return null
  const [report] = await verifyGroups(db, actor.groupId)
  return required(report, 'the group of an actor')
}
