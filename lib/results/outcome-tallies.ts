import type { Actor } from '#lib/access/actor.ts'
import { settledAfterDays } from '#lib/attempts/next-look.ts'
import { type CivilDate, utcMidnight } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'

/** Which attempts count: those made between two days, and of one crop. All of them when nothing is said. */
export interface ResultsFilter {
  readonly from?: CivilDate
  readonly to?: CivilDate
  /** The key of a taxon. */
  readonly taxonKey?: string
}

/** The outcomes of one variety by one method and treatment, by the look that counts of each attempt. */
export interface OutcomeTally {
  readonly varietyId: string
  readonly varietyName: string
  readonly taxonKey: string
  readonly commonName: string
  readonly method: string
  readonly treatment: string | null
  readonly attempts: number
  readonly growerIds: readonly string[]
  readonly pieces: number
  readonly alive: number
  readonly dead: number
  readonly unknown: number
  /** Pieces that nobody has looked at. */
  readonly pending: number
  /** Attempts whose look was within 30 days of their making, and the pieces in them. */
  readonly earlyAttempts: number
  readonly earlyPieces: number
}

interface TallyRow {
  readonly variety_id: string
  readonly variety_name: string
  readonly taxon_key: string
  readonly common_name: string
  readonly method: string
  readonly treatment: string | null
  readonly attempts: number
  readonly grower_ids: readonly string[]
  readonly pieces: number
  readonly alive: number
  readonly dead: number
  readonly unknown: number
  readonly pending: number
  readonly early_attempts: number
  readonly early_pieces: number
}

/**
 * The group's outcomes in one statement, however many there are. Withdrawn attempts never count. The look that
 * counts is the rule of `lib/attempts/standing-check.ts` in SQL.
 */
export async function outcomeTallies(
  db: Database,
  actor: Actor,
  filter: ResultsFilter = {},
): Promise<readonly OutcomeTally[]> {
  const from = filter.from ? utcMidnight(filter.from) : null
  const to = filter.to ? utcMidnight(filter.to) : null
  const taxonKey = filter.taxonKey ?? null
  const rows = await db.prisma.$queryRaw<TallyRow[]>`
    with standing as (
      select distinct on (c.attempt_id) c.attempt_id, c.checked_on, c.alive, c.dead, c.unknown
      from outcome_check c
      where c.group_id = ${actor.groupId}::uuid
        and not exists (
          select from outcome_check s where s.group_id = c.group_id and s.supersedes_id = c.id)
      order by c.attempt_id, c.checked_on desc, c.seq desc
    ),
    -- By grower first: sorting all attempts to tell growers apart takes longer than everything else together.
    by_grower as (
      select a.variety_id, a.method, a.treatment, a.grower_id,
        count(*) as attempts,
        sum(a.pieces) as pieces,
        sum(s.alive) as alive,
        sum(s.dead) as dead,
        sum(s.unknown) as unknown,
        sum(a.pieces) filter (where s.attempt_id is null) as pending,
        count(*) filter (where s.checked_on - a.made_on < ${settledAfterDays}::int) as early_attempts,
        sum(a.pieces) filter (where s.checked_on - a.made_on < ${settledAfterDays}::int) as early_pieces
      from attempt a
      left join standing s on s.attempt_id = a.id
      where a.group_id = ${actor.groupId}::uuid and a.withdrawn_at is null
        and (${from}::date is null or a.made_on >= ${from}::date)
        and (${to}::date is null or a.made_on <= ${to}::date)
      group by a.variety_id, a.method, a.treatment, a.grower_id)
    select g.variety_id, v.name as variety_name, v.taxon_key, t.common_name, g.method, g.treatment,
      sum(g.attempts)::int as attempts,
      array_agg(g.grower_id) as grower_ids,
      sum(g.pieces)::int as pieces,
      coalesce(sum(g.alive), 0)::int as alive,
      coalesce(sum(g.dead), 0)::int as dead,
      coalesce(sum(g.unknown), 0)::int as unknown,
      coalesce(sum(g.pending), 0)::int as pending,
      sum(g.early_attempts)::int as early_attempts,
      coalesce(sum(g.early_pieces), 0)::int as early_pieces
    from by_grower g
    join variety v on v.group_id = ${actor.groupId}::uuid and v.id = g.variety_id
    join taxon t on t.key = v.taxon_key
    where ${taxonKey}::text is null or v.taxon_key = ${taxonKey}::text
    group by g.variety_id, v.name, v.taxon_key, t.common_name, g.method, g.treatment`
  return rows.map((row) => ({
    varietyId: row.variety_id,
    varietyName: row.variety_name,
    taxonKey: row.taxon_key,
    commonName: row.common_name,
    method: row.method,
    treatment: row.treatment,
    attempts: row.attempts,
    growerIds: row.grower_ids,
    pieces: row.pieces,
    alive: row.alive,
    dead: row.dead,
    unknown: row.unknown,
    pending: row.pending,
    earlyAttempts: row.early_attempts,
    earlyPieces: row.early_pieces,
  }))
}

/** A season that attempts were made in, by the year it began in September, and a crop that there are attempts of. */
export interface ResultsChoices {
  readonly seasons: readonly number[]
  readonly crops: readonly { readonly taxonKey: string; readonly commonName: string }[]
}

/** What the results can be narrowed to, the newest season first. */
export async function resultsChoices(db: Database, actor: Actor): Promise<ResultsChoices> {
  const { groupId } = actor
  const seasons = await db.prisma.$queryRaw<{ season: number }[]>`
    with made as (
      select extract(year from min(made_on))::int - 1 as first, extract(year from max(made_on))::int as last
      from attempt where group_id = ${groupId}::uuid)
    select season from made, generate_series(made.first, made.last) as season
    where exists (select from attempt a where a.group_id = ${groupId}::uuid and a.withdrawn_at is null
      and a.made_on >= make_date(season, 9, 1) and a.made_on < make_date(season + 1, 9, 1))
    order by season desc`
  const crops = await db.prisma.$queryRaw<{ taxon_key: string; common_name: string }[]>`
    select distinct v.taxon_key, t.common_name
    from variety v
    join taxon t on t.key = v.taxon_key
    where v.group_id = ${groupId}::uuid and exists (select from attempt a
      where a.group_id = v.group_id and a.variety_id = v.id and a.withdrawn_at is null)
    order by t.common_name`
  return {
    seasons: seasons.map((row) => row.season),
    crops: crops.map((row) => ({ taxonKey: row.taxon_key, commonName: row.common_name })),
  }
}
