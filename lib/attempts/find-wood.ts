import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import type { AttemptInput } from '#lib/attempts/input.ts'
import type { AttemptsRefusal } from '#lib/attempts/refusals.ts'
import { required } from '#lib/kernel/assert.ts'
import { civilDateOf } from '#lib/kernel/civil-date.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { memberAccount, type StickAccount } from '#lib/ledger/accounts.ts'
import type { Queries } from '#lib/platform/database/database.ts'

/** The wood of an attempt: sticks of a lot on an account, or wood that the ledger never held. */
export type Wood =
  | {
      readonly source: 'lot'
      readonly varietyId: string
      readonly lotId: string
      readonly account: StickAccount
      readonly sticks: number
    }
  | { readonly source: 'own'; readonly varietyId: string; readonly fromLimbId: string | null }

type Answer = Promise<Result<Wood, AttemptsRefusal>>

async function findLot(tx: Queries, groupId: string, lotId: string) {
  return tx.lot.findUnique({
    where: { groupId_id: { groupId, id: lotId } },
    select: {
      code: true,
      cutOn: true,
      limbId: true,
      limb: { select: { varietyId: true, tree: { select: { keeperId: true } } } },
      session: { select: { cutterId: true } },
      holdings: { select: { account: true, sticks: true } },
    },
  })
}

/** The open hold on a lot or its limb, as the ledger's own refusal. */
async function holdOn(tx: Queries, groupId: string, lotId: string, limbId: string) {
  const hold = await tx.healthHold.findFirst({
    where: { groupId, releasedAt: null, OR: [{ lotId }, { limbId }] },
    select: { reason: true, placedAt: true },
  })
  return hold && ({ kind: 'held', reason: hold.reason, placedAt: hold.placedAt.toISOString() } as const)
}

/**
 * Sticks of a lot: those the grower received; failing these, those in the store when the wood is the grower's own
 * or the actor looks after the table. What was received may be recorded even on hold, because it is the truth;
 * wood in the store that is on hold gives nothing.
 */
async function woodOfLot(
  tx: Queries,
  actor: Actor,
  growerId: string,
  lotId: string,
  input: AttemptInput,
): Answer {
  const lot = await findLot(tx, actor.groupId, lotId)
  if (!lot) return refuse({ kind: 'not-found' })
  const { varietyId, tree } = lot.limb
  if (varietyId === null) return refuse({ kind: 'wood-without-name' })
  const cutOn = civilDateOf(lot.cutOn)
  if (input.madeOn < cutOn) return refuse({ kind: 'before-cut', code: lot.code, cutOn })
  const held = (account: StickAccount) => lot.holdings.find((row) => row.account === account)?.sticks ?? 0
  const received = held(memberAccount(growerId))
  if (received > 0) {
    const sticks = input.sticksUsed ?? Math.min(received, input.pieces)
    return ok({ source: 'lot', varietyId, lotId, account: memberAccount(growerId), sticks })
  }
  const isOwn = tree.keeperId === growerId || lot.session.cutterId === growerId
  if (held('store') === 0 || !(isOwn || can(actor, 'offer-any-lot'))) {
    return refuse({ kind: 'not-received', code: lot.code })
  }
  const hold = await holdOn(tx, actor.groupId, lotId, lot.limbId)
  if (hold) return refuse(hold)
  const sticks = input.sticksUsed ?? Math.min(held('store'), input.pieces)
  return ok({ source: 'lot', varietyId, lotId, account: 'store', sticks })
}

async function woodOfLimb(
  tx: Queries,
  actor: Actor,
  growerId: string,
  limbId: string,
  input: AttemptInput,
): Answer {
  const limb = await tx.limb.findUnique({
    where: { groupId_id: { groupId: actor.groupId, id: limbId } },
    select: { varietyId: true, variety: { select: { name: true } }, tree: { select: { keeperId: true } } },
  })
  const isTheirs = limb?.tree.keeperId === growerId
  if (!limb || !(isTheirs || can(actor, 'act-for-others'))) return refuse({ kind: 'not-found' })
  if (limb.varietyId === null || limb.variety === null) return refuse({ kind: 'wood-without-name' })
  if (input.varietyId !== undefined && input.varietyId !== limb.varietyId) {
    return refuse({ kind: 'variety-differs', variety: limb.variety.name })
  }
  return ok({ source: 'own', varietyId: limb.varietyId, fromLimbId: limbId })
}

/** The wood that an attempt names, looked up in the actor's group. */
export async function findWood(tx: Queries, actor: Actor, growerId: string, input: AttemptInput): Answer {
  if (input.source === 'lot') return woodOfLot(tx, actor, growerId, required(input.lotId, 'the lot'), input)
  if (input.fromLimbId !== undefined) return woodOfLimb(tx, actor, growerId, input.fromLimbId, input)
  const variety = await tx.variety.findUnique({
    where: { groupId_id: { groupId: actor.groupId, id: required(input.varietyId, 'the variety') } },
    select: { id: true },
  })
  if (!variety) return refuse({ kind: 'not-found' })
  return ok({ source: 'own', varietyId: variety.id, fromLimbId: null })
}
