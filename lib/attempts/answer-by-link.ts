import type { Actor } from '#lib/access/actor.ts'
import { type AnswerByLinkInput, countsOf } from '#lib/attempts/answer-input.ts'
import { answerThrough, type FoundLink, findCheckLink, installationSecret } from '#lib/attempts/check-link.ts'
import { ownWordsCause } from '#lib/attempts/input.ts'
import { type LookInput, type RecordedCheck, recordLook } from '#lib/attempts/record-check.ts'
import type { AttemptsRefusal } from '#lib/attempts/refusals.ts'
import { checkpointKeys } from '#lib/grafting/checkpoints.ts'
import { type CivilDate, civilDateIn, civilDateOf } from '#lib/kernel/civil-date.ts'
import { type Result, refuse } from '#lib/kernel/result.ts'
import { ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { once } from '#lib/platform/database/once.ts'
import { transact } from '#lib/platform/database/transact.ts'

/** A wrong tap is corrected for the day of the look that it was; the first answer is of today. */
function lookOf(link: FoundLink, input: AnswerByLinkInput, today: CivilDate): LookInput {
  const { attempt } = link
  const counts = countsOf(input, attempt.pieces)
  const corrected = answerThrough(link)
  const cause = counts.dead > 0 ? input.cause : undefined
  return {
    attemptId: link.attemptId,
    checkedOn: corrected ? civilDateOf(corrected.checkedOn) : today,
    ...counts,
    unknownWhy: input.say === 'not-attempted' ? 'not_attempted' : undefined,
    checkpoint: checkpointKeys.find((key) => key === link.checkpoint),
    state: input.state,
    causes: cause
      ? [{ cause, pieces: counts.dead, words: cause === ownWordsCause ? input.words : undefined }]
      : [],
    note: input.note,
    supersedesId: corrected?.id,
  }
}

/**
 * Records what somebody says through the link of a reminder, as that person and with no more than a member's
 * rights. Said again before the link runs out, it corrects what was said before; nothing is ever overwritten.
 */
export async function answerByLink(
  db: Database,
  input: AnswerByLinkInput,
  secret: string = installationSecret(),
): Promise<Result<RecordedCheck, AttemptsRefusal>> {
  return transact<RecordedCheck, AttemptsRefusal>(
    db,
    async (tx) => {
      const link = await findCheckLink(tx, input.token, secret)
      if (!link) return refuse({ kind: 'link-unknown' })
      const actor: Actor = { groupId: link.groupId, memberId: link.memberId, role: 'member' }
      return once(tx, link.groupId, input.key, 'answer-by-link', input, async () => {
        if (link.expiresAt <= db.now() || link.member.leftOn !== null) {
          const on = civilDateIn(link.member.group.timeZone, link.expiresAt)
          return refuse({ kind: 'link-is-over', on })
        }
        // Two taps at once wait here, so that the second corrects the first and does not stand beside it.
        await tx.$queryRaw`
          select 1 from attempt where group_id = ${link.groupId}::uuid and id = ${link.attemptId}::uuid for update`
        const now = await findCheckLink(tx, input.token, secret)
        if (!now) return refuse({ kind: 'link-unknown' })
        const today = civilDateIn(link.member.group.timeZone, db.now())
        return recordLook(tx, db, actor, lookOf(now, input, today), link.id)
      })
    },
    ledgerRefusalOf,
  )
}
