import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { logDetail } from '#lib/people/log-detail.ts'
import type { LogEntry } from '#lib/people/view.ts'
import type { Database } from '#lib/platform/database/database.ts'

export interface LogPage {
  readonly entries: readonly LogEntry[]
  /** The entry to go on from; null on the last page. */
  readonly olderThan: string | null
}

/**
 * Who did what, the newest first; null for those who may not read it.
 *
 * @param options.before the id of the last entry of the page before
 */
export async function readLog(
  db: Database,
  actor: Actor,
  options: { readonly before?: string; readonly limit?: number } = {},
): Promise<LogPage | null> {
  if (!can(actor, 'read-log')) return null
  const { groupId } = actor
  const limit = options.limit ?? 50
  const before =
    options.before && isUuid(options.before)
      ? await db.prisma.auditEntry.findFirst({ where: { groupId, id: options.before } })
      : null
  const rows = await db.prisma.auditEntry.findMany({
    where: {
      groupId,
      ...(before ? { OR: [{ at: { lt: before.at } }, { at: before.at, id: { lt: before.id } }] } : {}),
    },
    include: { actor: { select: { displayName: true } } },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    take: limit + 1,
  })
  const page = rows.slice(0, limit)
  const names = await namesOf(
    db,
    groupId,
    page.flatMap((row) => [row.subject, ...(row.onBehalfOf ? [`member:${row.onBehalfOf}`] : [])]),
  )
  return {
    entries: page.map((row) => ({
      id: row.id,
      at: row.at,
      who: row.actor.displayName,
      onBehalfOf: row.onBehalfOf ? (names.get(`member:${row.onBehalfOf}`) ?? null) : null,
      action: row.action,
      subject: row.subject,
      subjectName: names.get(row.subject) ?? null,
      detail: logDetail(row.detail),
    })),
    olderThan: rows.length > limit ? (page.at(-1)?.id ?? null) : null,
  }
}

const idsOf = (subjects: readonly string[], kind: string) =>
  subjects
    .filter((subject) => subject.startsWith(`${kind}:`))
    .map((subject) => subject.slice(kind.length + 1))
    .filter(isUuid)

async function namesOf(
  db: Database,
  groupId: string,
  subjects: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  const [members, varieties] = await Promise.all([
    db.prisma.member.findMany({
      where: { groupId, id: { in: idsOf(subjects, 'member') } },
      select: { id: true, displayName: true },
    }),
    db.prisma.variety.findMany({
      where: { groupId, id: { in: idsOf(subjects, 'variety') } },
      select: { id: true, name: true },
    }),
  ])
  return new Map([
    ...members.map(({ id, displayName }) => [`member:${id}`, displayName] as const),
    ...varieties.map(({ id, name }) => [`variety:${id}`, name] as const),
  ])
}
