import { type Answer, countsOf } from '#lib/attempts/answer-input.ts'
import { answerThrough, type FoundLink, findCheckLink, installationSecret } from '#lib/attempts/check-link.ts'
import { type CheckState, statesAt } from '#lib/attempts/check-states.ts'
import { type CheckpointKey, checkpointKeys, checkpointQuestions } from '#lib/grafting/checkpoints.ts'
import { findMethod } from '#lib/grafting/methods.ts'
import { type CivilDate, civilDateIn, civilDateOf } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'

/** The answer that stands, in the words of the form. */
export interface StandingAnswer {
  readonly say: Answer
  readonly alive: number
  readonly dead: number
  readonly unknown: number
  readonly state: string | null
  readonly note: string | null
  readonly checkedOn: CivilDate
}

/** What the page of a mailed link shows. */
export interface AnswerPage {
  readonly groupName: string
  readonly person: string
  readonly varietyName: string
  readonly commonName: string
  readonly methodName: string
  readonly livingWord: 'alive' | 'rooted'
  readonly madeOn: CivilDate
  readonly pieces: number
  readonly stock: string | null
  readonly hostTreeCode: string | null
  readonly checkpoint: CheckpointKey
  readonly question: string
  readonly states: readonly CheckState[]
  readonly state: 'open' | 'over' | 'withdrawn'
  readonly opensUntil: CivilDate
  readonly standing: StandingAnswer | null
  readonly memberId: string
  readonly groupId: string
}

const checkpointOf = (key: string): CheckpointKey =>
  checkpointKeys.find((known) => known === key) ?? 'thirty-days'

function standingOf(link: FoundLink): StandingAnswer | null {
  const check = answerThrough(link)
  if (!check) return null
  const { alive, dead, unknown, unknownWhy, state, note } = check
  const { pieces } = link.attempt
  const says = (['all', 'none'] as const).find((say) => {
    const counts = countsOf({ say }, pieces)
    return counts.alive === alive && counts.dead === dead
  })
  const nothingKnown = unknown === pieces
  const say = nothingKnown
    ? unknownWhy === 'not_attempted'
      ? 'not-attempted'
      : 'cannot-tell'
    : (says ?? 'some')
  return { say, alive, dead, unknown, state, note, checkedOn: civilDateOf(check.checkedOn) }
}

/** What a mailed link asks. Looking changes nothing. Null when there is no such link. */
export async function getAnswer(
  db: Database,
  token: string,
  secret: string = installationSecret(),
): Promise<AnswerPage | null> {
  const link = await findCheckLink(db.prisma, token, secret)
  if (!link) return null
  const { attempt, member } = link
  const method = findMethod(attempt.method)
  const checkpoint = checkpointOf(link.checkpoint)
  const isOver = link.expiresAt <= db.now() || member.leftOn !== null
  return {
    groupName: member.group.name,
    person: member.displayName,
    varietyName: attempt.variety.name,
    commonName: attempt.variety.taxon.commonName,
    methodName: method?.name ?? attempt.method,
    livingWord: method?.successWord === 'rooted' ? 'rooted' : 'alive',
    madeOn: civilDateOf(attempt.madeOn),
    pieces: attempt.pieces,
    stock: attempt.stock,
    hostTreeCode: attempt.hostTree?.code ?? null,
    checkpoint,
    question: checkpointQuestions[checkpoint],
    states: statesAt(checkpoint),
    state: attempt.withdrawnAt !== null ? 'withdrawn' : isOver ? 'over' : 'open',
    opensUntil: civilDateIn(member.group.timeZone, link.expiresAt),
    standing: standingOf(link),
    memberId: link.memberId,
    groupId: link.groupId,
  }
}
