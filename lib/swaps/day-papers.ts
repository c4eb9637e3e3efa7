import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { type CareSlip, careSlipFor } from '#lib/swaps/care-slips.ts'
import { catalogueRows } from '#lib/swaps/catalogue-rows.ts'
import { claimRows } from '#lib/swaps/claim-rows.ts'
import { getSwap } from '#lib/swaps/queries.ts'
import type { ClaimView, OfferedRow, SwapView } from '#lib/swaps/view.ts'

/** Everything that is printed for the day of a swap. */
export interface DayPapers {
  readonly swap: SwapView
  /** Claims that stand, by person and then by place on the tables. */
  readonly claims: readonly ClaimView[]
  /** Lots on the tables, by crop. */
  readonly offered: readonly OfferedRow[]
  /** Everybody who is in the group now, by name. */
  readonly people: readonly { readonly memberId: string; readonly name: string }[]
  readonly slips: readonly CareSlip[]
}

const byPlace = (a: ClaimView, b: ClaimView) =>
  (a.note ?? '~').localeCompare(b.note ?? '~', 'en', { numeric: true }) ||
  (a.varietyName ?? '~').localeCompare(b.varietyName ?? '~', 'en') ||
  a.code.localeCompare(b.code)

function slipsOf(offered: readonly OfferedRow[]): CareSlip[] {
  const crops = new Map<string, string | null>()
  for (const { commonName, storageProfile } of offered) {
    if (commonName !== null && !crops.has(commonName)) crops.set(commonName, storageProfile)
  }
  return [...crops].map(([crop, profile]) => careSlipFor(crop, profile))
}

/** The papers of a swap, in four statements; null without the right to hand over, or when there is no such swap. */
export async function dayPapers(db: Database, actor: Actor, swapId: string): Promise<DayPapers | null> {
  if (!can(actor, 'hand-over')) return null
  const swap = await getSwap(db, actor, swapId)
  if (!swap) return null
  const [claims, offered, members] = await Promise.all([
    claimRows(db, actor.groupId, swapId),
    catalogueRows(db, actor.groupId, swapId),
    db.prisma.member.findMany({
      where: { groupId: actor.groupId, leftOn: null },
      select: { id: true, displayName: true },
    }),
  ])
  const inOrder = claims
    .filter(({ status }) => status !== 'cancelled')
    .sort((a, b) => a.memberName.localeCompare(b.memberName, 'en') || byPlace(a, b))
  return {
    swap,
    claims: inOrder,
    offered,
    people: members
      .map(({ id, displayName }) => ({ memberId: id, name: displayName }))
      .sort((a, b) => a.name.localeCompare(b.name, 'en')),
    slips: slipsOf(offered),
  }
}
