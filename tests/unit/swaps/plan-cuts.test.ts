import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { required } from '#lib/kernel/assert.ts'
import { addDays, civilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import { CutPlanQuestion } from '#lib/swaps/cut-plan.ts'
import { type CropPlan, type CutPlanWish, planCuts, usualDormancy } from '#lib/swaps/plan-cuts.ts'
import { type StorageProfile, storageProfiles } from '#lib/viability/storage-profiles.ts'
import { viabilityWindow } from '#lib/viability/viability-window.ts'
import { dayClock } from '#lib/wood/day-clock.ts'

const clock = dayClock('Europe/London')
const heldOn = civilDate('2027-02-21')

const crop = (storageProfile: string, commonName = storageProfile) => ({
  taxonKey: storageProfile,
  commonName,
  storageProfile,
  limbs: 3,
  varieties: 2,
})

const plans = (profiles: readonly string[], wish: Partial<CutPlanWish> = {}): readonly CropPlan[] => {
  const plan = planCuts(
    profiles.map((profile) => crop(profile)),
    { heldOn, celsius: 4, ...wish },
    clock,
  )
  if ('kind' in plan) throw new Error(plan.reason)
  return plan
}
const planOf = (profile: string, wish: Partial<CutPlanWish> = {}) =>
  required(plans([profile], wish)[0], 'a plan')

describe('when to cut for a swap', () => {
  // Days of good keeping at 4 °C in the storage table: apple 70, apricot 54, both rounded from less than a day more or
  // less: the first noon is within a day of them.
  test('is as many days before as the wood is good at the temperature of the store', () => {
    for (const [profile, days] of [
      ['apple', 70],
      ['apricot', 54],
    ] as const) {
      const { good } = planOf(profile)
      expect(good?.until).toBe(heldOn)
      const back = daysBetween(required(good, 'days').from, heldOn)
      expect([days - 1, days]).toContain(back)
    }
  })

  test('keeps within the days on which wood is dormant', () => {
    const wish = { dormantFrom: civilDate('2027-01-05'), dormantUntil: civilDate('2027-02-10') }
    expect(planOf('apple', wish)).toMatchObject({
      good: { from: '2027-01-05', until: '2027-02-10' },
      needs: null,
    })
  })

  test('is no day at all in too warm a store, and then says how cold it has to be', () => {
    const wish = { celsius: 15, dormantUntil: civilDate('2027-01-10') }
    const { good, needs } = planOf('apricot', wish)
    expect(good).toBeNull()
    const celsius = needs?.kind === 'celsius' ? needs.celsius : Number.NaN
    expect(planOf('apricot', { ...wish, celsius }).good).not.toBeNull()
    expect(planOf('apricot', { ...wish, celsius: celsius + 0.2 }).good).toBeNull()
  })

  test('says when no store is cold enough', () => {
    const wish = { heldOn: civilDate('2027-09-01'), dormantUntil: civilDate('2027-02-10') }
    expect(planOf('apricot', wish)).toMatchObject({ good: null, needs: { kind: 'not-long-enough' } })
  })

  test('does not hold evergreen wood to dormancy, and warns of a store too cold for it', () => {
    const wish = { dormantUntil: civilDate('2027-01-10'), celsius: 2 }
    expect(planOf('citrus_budwood', wish)).toMatchObject({ good: { until: heldOn }, isTooCold: true })
    expect(planOf('apple', wish).isTooCold).toBe(false)
  })

  test('puts what has the fewest days first', () => {
    expect(plans(['grape', 'apple', 'elder']).map(({ taxonKey }) => taxonKey)).toEqual([
      'elder',
      'apple',
      'grape',
    ])
  })

  test('is refused for a store that cannot be', () => {
    expect(planCuts([crop('apple')], { heldOn, celsius: -80 }, clock)).toEqual({
      kind: 'refused',
      reason: 'absurd-temperature',
    })
  })

  test('agrees with the window of wood cut on its first day, and on the day before it', () => {
    fc.assert(
      fc.property(
        fc.constantFrom<StorageProfile>(...Object.values(storageProfiles)),
        fc.integer({ min: -2, max: 12 }),
        (profile, celsius) => {
          const { good } = planOf(profile.key, { celsius })
          const isGood = (day: typeof heldOn) => {
            const cutAt = clock.noon(day)
            const window = viabilityWindow({
              profile,
              cutAt,
              asOf: cutAt,
              stints: [],
              keptAt: celsius,
              packaging: 'sealed_damp',
            })
            return window.kind === 'window' && window.early.at > clock.noon(heldOn)
          }
          const { from } = required(good, 'days')
          expect([isGood(from), isGood(addDays(from, -2))]).toEqual([true, false])
        },
      ),
      { numRuns: 60 },
    )
  })
})

describe('the first day of cutting', () => {
  test.each([
    ['2027-02-21', '2026-12-01'],
    ['2027-05-31', '2026-12-01'],
    ['2026-12-20', '2026-12-01'],
    ['2027-08-10', undefined],
  ])('for a swap on %s is usually %s', (day, first) => {
    expect(usualDormancy(civilDate(day))).toBe(first)
  })
})

describe('what a plan is asked for', () => {
  test('is in the reader’s degrees', () => {
    expect(CutPlanQuestion.parse({ degrees: '39,2', unit: 'F' }).celsius).toBe(4)
    expect(CutPlanQuestion.parse({ degrees: '-1' }).celsius).toBe(-1)
    expect(CutPlanQuestion.parse({}).celsius).toBeUndefined()
  })

  test.each([
    [{ degrees: '60' }, 'degrees'],
    [{ degrees: 'cold' }, 'degrees'],
    [{ degrees: '123', unit: 'F' }, 'degrees'],
    [{ from: '2027-13-01' }, 'from'],
    [{ from: '2027-02-01', until: '2027-01-01' }, 'until'],
  ])('is refused at its field: %j', (query, field) => {
    const issues = CutPlanQuestion.safeParse(query).error?.issues ?? []
    expect(issues.map(({ path }) => path[0])).toEqual([field])
  })
})
