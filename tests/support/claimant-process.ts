/**
 * One server process of a rush, without the web around it: sends the claims of a file through the same command and
 * pool as the application, many at a time, and says each answer on a line of its own. When the database goes away
 * the same form is sent again, as a person would who got no answer.
 */
import { readFileSync } from 'node:fs'
import { openDatabase } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import type { Wish } from './claimants.ts'

const hands = 16
const givesUpAfterMs = 60_000

const [, , file = '', url = ''] = process.argv
const wishes = JSON.parse(readFileSync(file, 'utf8')) as Wish[]
const db = openDatabase(url, { max: hands })

const say = (line: object) => process.stdout.write(`${JSON.stringify(line)}\n`)

async function send(wish: Wish): Promise<void> {
  const { groupId, memberId, key, offeringId, shares } = wish
  const actor = { groupId, memberId, role: 'member' as const }
  const began = Date.now()
  for (;;) {
    try {
      const answer = await claimOffering(db, actor, { key, offeringId, shares })
      say(answer.ok ? { key, yes: answer.value } : { key, no: answer.refusal })
      return
    } catch (error) {
      say({ key, error: databaseErrorOf(error)?.sqlstate ?? String(error) })
      if (Date.now() - began > givesUpAfterMs) throw error
      await new Promise((resolve) => setTimeout(resolve, 200))
    }
  }
}

const waiting = [...wishes]
await Promise.all(
  Array.from({ length: hands }, async () => {
    for (let wish = waiting.shift(); wish; wish = waiting.shift()) await send(wish)
  }),
)
await db.close()
