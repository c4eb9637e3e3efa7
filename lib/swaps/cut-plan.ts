import { z } from 'zod'
import type { Actor } from '#lib/access/actor.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { optionalCivilDate, optionalDecimal } from '#lib/kernel/form-values.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { type CropPlan, type CropToCut, planCuts, usualDormancy } from '#lib/swaps/plan-cuts.ts'
import { getSwap } from '#lib/swaps/queries.ts'
import type { SwapView } from '#lib/swaps/view.ts'
import { dayClock } from '#lib/wood/day-clock.ts'

const degreesMessage = 'Enter a temperature at which wood is kept, such as 4'

/** What a cut plan is asked for, as it stands in an address; degrees are the reader's. */
export const CutPlanQuestion = z
  .object({
    degrees: optionalDecimal({ min: -40, max: 122, message: degreesMessage }),
    unit: z.enum(['C', 'F']).default('C'),
    from: optionalCivilDate('Enter the first day of cutting as 2026-12-01, or leave it empty'),
    until: optionalCivilDate('Enter the last day of cutting as 2027-03-01, or leave it empty'),
  })
  .superRefine(({ from, until }, context) => {
    if (from && until && until < from) {
      context.addIssue({ code: 'custom', path: ['until'], message: 'The last day is before the first' })
    }
  })
  .transform(({ degrees, unit, from, until }) => ({
    celsius: degrees === undefined || unit === 'C' ? degrees : Math.round(((degrees - 32) / 1.8) * 10) / 10,
    from,
    until,
  }))
  .refine(({ celsius = 0 }) => celsius >= -40 && celsius <= 50, { path: ['degrees'], error: degreesMessage })
export type CutPlanQuestion = z.output<typeof CutPlanQuestion>

export interface CutPlanView {
  readonly swap: SwapView
  readonly celsius: number
  readonly dormantFrom: CivilDate | null
  readonly dormantUntil: CivilDate | null
  readonly crops: readonly CropPlan[]
}

/** Usual in a household fridge. Common practice, no source. */
const usualCelsius = 4

/** What stands in a group's trees and could be cut, by kind of fruit. One statement. */
async function cropsOf(db: Database, groupId: string): Promise<CropToCut[]> {
  return db.prisma.$queryRaw<CropToCut[]>`
    select x.key as "taxonKey", x.common_name as "commonName", x.storage_profile as "storageProfile",
        count(*)::int as limbs, count(distinct y.id)::int as varieties
      from limb b
      join tree t on t.group_id = b.group_id and t.id = b.tree_id
      join variety y on y.group_id = b.group_id and y.id = b.variety_id
      join taxon x on x.key = y.taxon_key
      where b.group_id = ${groupId}::uuid and b.gone_on is null and t.gone_on is null
      group by x.key, x.common_name, x.storage_profile
      order by x.common_name, x.key`
}

/**
 * When a group's members should cut for a swap, crop by crop; null when the group has no such swap. Everybody in the
 * group may read it. Three statements.
 */
export async function getCutPlan(
  db: Database,
  actor: Actor,
  swapId: string,
  question: CutPlanQuestion,
): Promise<CutPlanView | null> {
  const [swap, group] = await Promise.all([
    getSwap(db, actor, swapId),
    db.prisma.orchardGroup.findUniqueOrThrow({ where: { id: actor.groupId }, select: { timeZone: true } }),
  ])
  if (!swap) return null
  const { heldOn } = swap
  const celsius = question.celsius ?? usualCelsius
  const dormantFrom = question.from ?? usualDormancy(heldOn)
  const wish = { heldOn, celsius, dormantFrom, dormantUntil: question.until }
  const crops = planCuts(await cropsOf(db, actor.groupId), wish, dayClock(group.timeZone))
  if ('kind' in crops) throw new RangeError(`Wood is not kept at ${celsius} °C`)
  return { swap, celsius, dormantFrom: dormantFrom ?? null, dormantUntil: question.until ?? null, crops }
}
