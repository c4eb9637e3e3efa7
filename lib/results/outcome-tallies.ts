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
      order by c.attempt_id, c.checked_on desc, c.seq desc)
    select a.variety_id, v.name as variety_name, v.taxon_key, t.common_name, a.method, a.treatment,
      count(*)::int as attempts,
      array_agg(distinct a.grower_id) as grower_ids,
      sum(a.pieces)::int as pieces,
      coalesce(sum(s.alive), 0)::int as alive,
      coalesce(sum(s.dead), 0)::int as dead,
      coalesce(sum(s.unknown), 0)::int as unknown,
      coalesce(sum(a.pieces) filter (where s.attempt_id is null), 0)::int as pending,
      count(*) filter (where s.checked_on - a.made_on < ${settledAfterDays}::int)::int as early_attempts,
      coalesce(sum(a.pieces) filter (where s.checked_on - a.made_on < ${settledAfterDays}::int), 0)::int
        as early_pieces
    from attempt a
    join variety v on v.group_id = a.group_id and v.id = a.variety_id
    join taxon t on t.key = v.taxon_key
    left join standing s on s.attempt_id = a.id
    where a.group_id = ${actor.groupId}::uuid and a.withdrawn_at is null
      and (${from}::date is null or a.made_on >= ${from}::date)
      and (${to}::date is null or a.made_on <= ${to}::date)
      and (${taxonKey}::text is null or v.taxon_key = ${taxonKey}::text)
    group by a.variety_id, v.name, v.taxon_key, t.common_name, a.method, a.treatment`
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
  const seasons = await db.prisma.$queryRaw<{ season: number }[]>`
    select distinct (extract(year from made_on) - case when extract(month from made_on) < 9 then 1 else 0 end)::int
      as season
    from attempt where group_id = ${actor.groupId}::uuid and withdrawn_at is null order by season desc`
  const crops = await db.prisma.$queryRaw<{ taxon_key: string; common_name: string }[]>`
    select distinct v.taxon_key, t.common_name
    from attempt a
    join variety v on v.group_id = a.group_id and v.id = a.variety_id
    join taxon t on t.key = v.taxon_key
    where a.group_id = ${actor.groupId}::uuid and a.withdrawn_at is null order by t.common_name`
  return {
    seasons: seasons.map((row) => row.season),
    crops: crops.map((row) => ({ taxonKey: row.taxon_key, commonName: row.common_name })),
  }
}
