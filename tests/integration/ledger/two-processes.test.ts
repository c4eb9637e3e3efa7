import { expect, test } from 'vitest'
import { seededRandom } from '#lib/kernel/seeded-random.ts'
import { startClaimants, wishesOf } from '#tests/support/claimants.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeRushWorld } from '#tests/support/rush-world.ts'
import { expectEveryAnswerTrue } from './rush-answers.ts'

const database = testDatabase()

const options = {
  members: 500,
  lots: 40,
  shares: 12,
  sticksPerShare: 2,
  capPerMember: 4,
  capPerVariety: 2,
}

test('500 members claim 40 lots through two server processes: every answer is true', {
  timeout: 240_000,
}, async () => {
  const { db } = database
  const world = await makeRushWorld(db, options)
  const people = { groupId: world.group.groupId, memberIds: world.memberIds }
  const wishes = wishesOf(
    seededRandom(2027_02_13),
    people,
    world.offerings.map(({ offeringId }) => offeringId),
    { each: 8, newId: db.newId },
  )
  expect(wishes.length).toBeGreaterThan(4_000)
  // Whoever presses twice may well reach the two processes at once.
  const servers = [0, 1].map((half) =>
    startClaimants(
      database.url,
      wishes.filter((_, at) => at % 2 === half),
    ),
  )
  expect(await Promise.all(servers.map((server) => server.ended))).toEqual([0, 0])
  const said = servers.flatMap((server) => server.said)
  expect(said.filter((answer) => 'error' in answer)).toEqual([])
  expect(said).toHaveLength(wishes.length)
  const counts = await expectEveryAnswerTrue(db, world, options, wishes, said)
  // Far more was asked for than there is, so next to nothing is left over.
  const taken = await db.prisma.offering.aggregate({
    where: { groupId: world.group.groupId },
    _sum: { sharesClaimed: true },
  })
  expect(taken._sum.sharesClaimed).toBeGreaterThan(options.lots * (options.shares - 1))
  expect(counts.no).toBeGreaterThan(counts.yes)
  expect(counts.sentAgain).toBeGreaterThan(0)
})
