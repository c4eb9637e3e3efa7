import type { Actor } from '#lib/access/actor.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'
import type { Prisma } from '#lib/platform/generated/client.ts'

export interface AuditNote {
  /** The command, verb first. */
  readonly action: string
  /** What it was done to, such as `lot:ABCDEF` or `member:<id>`. */
  readonly subject: string
  readonly onBehalfOf?: string | null
  readonly detail?: Prisma.InputJsonObject
}

/** Notes who did what, in the same transaction as the deed. */
export async function writeAudit(tx: Queries, db: Database, actor: Actor, note: AuditNote): Promise<void> {
  await tx.auditEntry.create({
    data: {
      groupId: actor.groupId,
      id: db.newId(),
      at: db.now(),
      actorId: actor.memberId,
      onBehalfOf: note.onBehalfOf ?? null,
      action: note.action,
      subject: note.subject,
      detail: note.detail ?? {},
    },
  })
}
