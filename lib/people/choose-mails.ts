import { z } from 'zod'
import type { Actor } from '#lib/access/actor.ts'
import { ticked } from '#lib/kernel/form-values.ts'
import { ok, type Result } from '#lib/kernel/result.ts'
import { type MailChoice, setMailChoice } from '#lib/people/mail-choice.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { transact } from '#lib/platform/database/transact.ts'

export const ChooseMailsInput = z.object({ reminders: ticked, weekMail: ticked })
export type ChooseMailsInput = z.output<typeof ChooseMailsInput>

/** Says which mails the actor wants. One's own choice alone; nobody makes it for another. */
export async function chooseMails(
  db: Database,
  actor: Actor,
  input: ChooseMailsInput,
): Promise<Result<MailChoice, never>> {
  return transact<MailChoice, never>(db, async (tx) => {
    await setMailChoice(tx, db, actor, input)
    return ok(input)
  })
}
