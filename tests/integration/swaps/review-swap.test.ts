import { expect, test } from 'vitest'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { handOverAll } from '#lib/swaps/hand-over-all.ts'
import { ClaimOfferingInput } from '#lib/swaps/input.ts'
import { reviewSwap } from '#lib/swaps/review-swap.ts'
import { makeGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeOffering, makeSwap, valueIn } from './swap-world.ts'

const database = testDatabase()

test('looking back on a swap finds what was short, never claimed, left over, and the last of its kind', async () => {
  const { db } = database
  const group = await makeGroup(db)
  const others = await makeGroup(db)
  const swapId = await makeSwap(db, group)
  const taken = await makeOffering(db, group, swapId, {
    shares: 2,
    sticksPerShare: 1,
    varietyName: 'Taken Pippin',
  })
  const left = await makeOffering(db, group, swapId, {
    shares: 3,
    sticksPerShare: 1,
    varietyName: 'Left Codlin',
  })
  await makeOffering(db, others, await makeSwap(db, others), { varietyName: 'Elsewhere' })
  const claim = ClaimOfferingInput.parse({ key: db.newId(), offeringId: taken.offeringId, shares: 2 })
  valueIn(await claimOffering(db, group.member, claim))
  const before = await reviewSwap(db, group.helper, swapId)
  expect(before?.unreconciled.map(({ code, inStore, promised }) => [code, inStore, promised]).sort()).toEqual(
    [
      [left.code, 3, 0],
      [taken.code, 0, 2],
    ].sort(),
  )
  valueIn(await handOverAll(db, group.helper, { key: db.newId(), swapId, memberId: group.member.memberId }))
  const limb = await db.prisma.limb.findFirstOrThrow({ where: { id: taken.limbId } })
  for (const [rank, { memberId }] of [group.member, group.otherMember].entries()) {
    await db.prisma.wish.create({
      data: {
        groupId: group.groupId,
        id: db.newId(),
        swapId,
        memberId,
        rank: rank + 1,
        varietyId: limb.varietyId,
        sticks: 1,
        recordedById: memberId,
        madeAt: db.now(),
      },
    })
  }

  let statements = 0
  const another = () => {
    statements++
  }
  db.pool.on('acquire', another)
  const review = await reviewSwap(db, group.helper, swapId)
  db.pool.off('acquire', another)
  expect(statements).toBeGreaterThan(0)
  expect(statements).toBeLessThanOrEqual(8)
  // Mabel had hers; Otto wished for it and has none.
  expect(review?.shortages).toEqual([{ varietyName: 'Taken Pippin', people: 1 }])
  expect(review?.neverClaimed.map(({ code }) => code)).toEqual([left.code])
  expect(review?.unreconciled.map(({ code }) => code)).toEqual([left.code])
  expect(review?.lastCopies.map(({ varietyName }) => varietyName)).toEqual(['Left Codlin', 'Taken Pippin'])
  expect(review?.donors.reduce((sum, { lots }) => sum + lots, 0)).toBe(2)
  expect(await reviewSwap(db, group.member, swapId)).toBeNull()
  expect(await reviewSwap(db, others.helper, swapId)).toBeNull()
})
