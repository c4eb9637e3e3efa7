import { notFound } from 'next/navigation'
import type { MemberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { memberChoices } from '#lib/people/queries.ts'

export interface Grower {
  readonly id: string
  /** Null for oneself. */
  readonly name: string | null
}

/** Whose entries a page is about: one's own, or for those who act for others somebody's named in the address. */
export async function growerOf(context: MemberContext, asked: unknown): Promise<Grower> {
  const { db, actor } = context
  if (typeof asked !== 'string' || asked === actor.memberId) return { id: actor.memberId, name: null }
  if (!can(actor, 'act-for-others') || !isUuid(asked)) notFound()
  const member = (await memberChoices(db, actor)).find(({ id }) => id === asked)
  return member ? { id: member.id, name: member.name } : notFound()
}
