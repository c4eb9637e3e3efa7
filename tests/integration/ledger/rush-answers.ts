import { expect } from 'vitest'
import { required } from '#lib/kernel/assert.ts'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { Said, Wish } from '#tests/support/claimants.ts'
import type { RushOptions, RushWorld } from '#tests/support/rush-world.ts'

/** How everything stands when the rush is over. */
async function outcomeOf(db: Database, { group, swapId }: RushWorld) {
  const claims = await db.prisma.claim.findMany({ where: { groupId: group.groupId, swapId } })
  const sum = (rows: typeof claims) => rows.reduce((total, { shares }) => total + shares, 0)
  return {
    claims,
    taken: (offeringId: string) => sum(claims.filter((claim) => claim.offeringId === offeringId)),
    held: (memberId: string) => sum(claims.filter((claim) => claim.memberId === memberId)),
    has: (memberId: string, offeringId: string) =>
      claims.some((claim) => claim.memberId === memberId && claim.offeringId === offeringId),
  }
}

type Outcome = Awaited<ReturnType<typeof outcomeOf>>

/** In a rush in which nobody gives anything back, whatever was refused then must be refused still. */
function expectTrueRefusal(
  wish: Wish,
  said: Extract<Said, { no: unknown }>,
  outcome: Outcome,
  options: RushOptions,
) {
  const { no } = said
  switch (no.kind) {
    case 'not-enough-shares':
      expect(no.left).toBeLessThan(wish.shares)
      expect(options.shares - outcome.taken(wish.offeringId)).toBeLessThanOrEqual(no.left)
      return
    case 'cap-per-member':
      expect(no.cap).toBe(options.capPerMember)
      expect(no.held + wish.shares).toBeGreaterThan(no.cap)
      expect(outcome.held(wish.memberId)).toBeGreaterThanOrEqual(no.held)
      return
    case 'cap-per-variety':
      expect(no.cap).toBe(options.capPerVariety)
      expect(no.held + wish.shares).toBeGreaterThan(no.cap)
      return
    case 'already-claimed':
      expect(outcome.has(wish.memberId, wish.offeringId)).toBe(true)
      return
    default:
      throw new Error(`Nobody expects ${JSON.stringify(no)} in a rush`)
  }
}

/**
 * Looks at every answer of a rush: each "yes" is there as it was said, each "no" was true and left nothing behind, no
 * lot is claimed over, nobody is over a limit, and no stick is lost.
 */
export async function expectEveryAnswerTrue(
  db: Database,
  world: RushWorld,
  options: RushOptions,
  wishes: readonly Wish[],
  said: readonly Said[],
): Promise<{ readonly yes: number; readonly no: number; readonly sentAgain: number }> {
  const outcome = await outcomeOf(db, world)
  const byKey = new Map(wishes.map((wish) => [wish.key, wish]))
  const claims = new Map(outcome.claims.map((claim) => [claim.id, claim]))
  const yes = new Map<string, string>()
  const no = new Set<string>()
  let sentAgain = 0
  for (const answer of said) {
    const wish = required(byKey.get(answer.key), 'the wish of an answer')
    if ('yes' in answer) {
      const { claimId, sticks, replayed } = answer.yes
      const before = yes.get(answer.key)
      if (before) expect(claimId).toBe(before)
      if (replayed) sentAgain++
      yes.set(answer.key, claimId)
      const { memberId, offeringId, shares } = wish
      expect(claims.get(claimId)).toMatchObject({ memberId, offeringId, shares, sticks, status: 'promised' })
    } else if ('no' in answer) {
      no.add(answer.key)
      expectTrueRefusal(wish, answer, outcome, options)
    }
  }
  expect([...no].filter((key) => yes.has(key))).toEqual([])
  const written = await db.prisma.idempotencyKey.findMany({
    where: { groupId: world.group.groupId, command: 'claim' },
    select: { key: true },
  })
  expect(written.filter(({ key }) => no.has(key))).toEqual([])
  expect([...new Set(yes.values())].sort()).toEqual([...claims.keys()].sort())
  expectWithinLimits(world, outcome, options)
  expect(await verifyLedger(db, world.group.groupId)).toEqual([])
  return { yes: yes.size, no: no.size, sentAgain }
}

function expectWithinLimits(world: RushWorld, outcome: Outcome, options: RushOptions): void {
  for (const { offeringId } of world.offerings) {
    expect(outcome.taken(offeringId)).toBeLessThanOrEqual(options.shares)
  }
  for (const memberId of world.memberIds)
    expect(outcome.held(memberId)).toBeLessThanOrEqual(options.capPerMember)
}
