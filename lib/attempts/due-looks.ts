import { hemisphereOf } from '#lib/attempts/hemisphere.ts'
import { type Look, looksOf, nextLook } from '#lib/attempts/next-look.ts'
import { standingCheck } from '#lib/attempts/standing-check.ts'
import { addDays, type CivilDate, civilDateOf, utcMidnight } from '#lib/kernel/civil-date.ts'
import type { Queries } from '#lib/platform/database/database.ts'

/** Nobody is reminded of a look that was due longer ago than this: not after an import, nor after a long pause. */
const remindedWithinDays = 60
/** Looks beyond this age are asked for on the pages alone. */
const oldestYears = 12
const atOnce = 1_000

/** A batch of somebody who can be mailed, with the look that is due. */
export interface DueLook {
  readonly attemptId: string
  readonly growerId: string
  readonly method: string
  readonly madeOn: CivilDate
  readonly pieces: number
  readonly varietyName: string
  readonly stock: string | null
  readonly hostTreeCode: string | null
  readonly look: Look
  /** When it was asked for by mail, the first time first. */
  readonly remindedAt: readonly Date[]
}

const include = {
  variety: { select: { name: true } },
  hostTree: { select: { code: true } },
  reminders: { select: { checkpoint: true, sentAt: true }, orderBy: { nth: 'asc' } },
  checks: {
    select: {
      checkedOn: true,
      seq: true,
      alive: true,
      checkpoint: true,
      state: true,
      supersededBy: { select: { id: true } },
    },
  },
} as const

async function page(tx: Queries, groupId: string, from: CivilDate, after: string | null) {
  return tx.attempt.findMany({
    where: {
      groupId,
      withdrawnAt: null,
      madeOn: { gte: utcMidnight(from) },
      grower: { leftOn: null, OR: [{ loginId: { not: null } }, { email: { not: null } }] },
      ...(after === null ? {} : { id: { gt: after } }),
    },
    include,
    orderBy: { id: 'asc' },
    take: atOnce,
  })
}

type Row = Awaited<ReturnType<typeof page>>[number]

function dueLookOf(row: Row, timeZone: string, today: CivilDate): DueLook | null {
  const checks = row.checks.map((check) => ({
    checkedOn: civilDateOf(check.checkedOn),
    seq: Number(check.seq),
    alive: check.alive,
    checkpoint: check.checkpoint,
    state: check.state,
    isCorrected: check.supersededBy !== null,
  }))
  const standing = standingCheck(checks)
  const looks = looksOf(
    {
      method: row.method,
      madeOn: civilDateOf(row.madeOn),
      hemisphere: hemisphereOf(timeZone),
      looks: checks
        .filter(({ isCorrected }) => !isCorrected)
        .map(({ checkedOn, checkpoint, state }) => ({ on: checkedOn, checkpoint, state })),
      isAnyAlive: standing === null || standing.alive > 0,
    },
    today,
  )
  const look = nextLook(looks)
  if (!look || look.state === 'next' || look.on < addDays(today, -remindedWithinDays)) return null
  return {
    attemptId: row.id,
    growerId: row.growerId,
    method: row.method,
    madeOn: civilDateOf(row.madeOn),
    pieces: row.pieces,
    varietyName: row.variety.name,
    stock: row.stock,
    hostTreeCode: row.hostTree?.code ?? null,
    look,
    remindedAt: row.reminders
      .filter(({ checkpoint }) => checkpoint === look.name)
      .map(({ sentAt }) => sentAt),
  }
}

/** The looks of a group that are due, of people who can be reached by mail. */
export async function dueLooksOfGroup(
  tx: Queries,
  groupId: string,
  timeZone: string,
  today: CivilDate,
): Promise<readonly DueLook[]> {
  const from = addDays(today, -oldestYears * 366)
  const due: DueLook[] = []
  for (let after: string | null = null; ; ) {
    const rows: readonly Row[] = await page(tx, groupId, from, after)
    for (const row of rows) {
      const found = dueLookOf(row, timeZone, today)
      if (found) due.push(found)
    }
    const last = rows.at(-1)
    if (!last || rows.length < atOnce) return due
    after = last.id
  }
}
