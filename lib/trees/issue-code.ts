import { randomInt } from 'node:crypto'
import { issueCode as drawCode } from '#lib/grafting/codes.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'

const draws = 20

/**
 * A code that this group never gave out before, written down as given in the same transaction. A code that was
 * drawn twice is drawn again: with 31⁵ codes, twenty collisions in a row mean a defect, and that is thrown.
 *
 * @param drawn where the random numbers come from, 0 ≤ n < limit; only tests pass their own
 */
export async function issueCode(
  tx: Queries,
  db: Database,
  groupId: string,
  kind: 'lot' | 'tree',
  drawn: (limit: number) => number = randomInt,
): Promise<string> {
  for (let draw = 0; draw < draws; draw++) {
    const code: string = drawCode(drawn)
    const { count } = await tx.issuedCode.createMany({
      data: [{ groupId, code, kind, issuedAt: db.now() }],
      skipDuplicates: true,
    })
    if (count === 1) return code
  }
  throw new Error(`No free code in ${draws} draws`)
}
