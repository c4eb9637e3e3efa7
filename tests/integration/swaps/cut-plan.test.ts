import { beforeAll, describe, expect, test } from 'vitest'
import { civilDate, utcMidnight } from '#lib/kernel/civil-date.ts'
import { CutPlanQuestion, getCutPlan } from '#lib/swaps/cut-plan.ts'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { makeSwap } from './swap-world.ts'

const database = testDatabase({ now: () => new Date('2027-01-10T09:00:00Z') })

let group: TestGroup
let stranger: TestGroup
let pear: TestLot
let swapId: string
const asked = CutPlanQuestion.parse({})

beforeAll(async () => {
  const { db } = database
  group = await makeGroup(db)
  stranger = await makeGroup(db)
  await makeLot(db, group)
  await makeLot(db, group)
  pear = await makeLot(db, group, { taxonKey: 'pyrus-communis', genus: 'Pyrus' })
  await makeLot(db, stranger, { taxonKey: 'ficus-carica', genus: 'Ficus' })
  swapId = await makeSwap(db, group)
})

describe('the cut plan of a swap', () => {
  test('has the crops of the group’s limbs and nobody else’s, for everybody in the group', async () => {
    for (const actor of [group.organiser, group.helper, group.member]) {
      const plan = await getCutPlan(database.db, actor, swapId, asked)
      expect(plan?.crops.map(({ taxonKey, limbs }) => [taxonKey, limbs]).sort()).toEqual([
        ['malus-domestica', 2],
        ['pyrus-communis', 1],
      ])
      expect(plan).toMatchObject({ celsius: 4, dormantFrom: '2026-12-01', swap: { heldOn: '2027-01-20' } })
    }
  })

  test('leaves out a limb that is gone', async () => {
    const at = { groupId_id: { groupId: group.groupId, id: pear.limbId } }
    await database.db.prisma.limb.update({
      where: at,
      data: { goneOn: utcMidnight(civilDate('2027-01-01')) },
    })
    const plan = await getCutPlan(database.db, group.member, swapId, asked)
    expect(plan?.crops.map(({ taxonKey }) => taxonKey)).toEqual(['malus-domestica'])
    await database.db.prisma.limb.update({ where: at, data: { goneOn: null } })
  })

  test('goes by the figures that are asked for', async () => {
    const question = CutPlanQuestion.parse({ degrees: '20', until: '2026-12-05' })
    const plan = await getCutPlan(database.db, group.member, swapId, question)
    expect(plan?.crops.every(({ good, needs }) => good === null && needs?.kind === 'celsius')).toBe(true)
  })

  test('is not there for another group, nor for a swap that is none', async () => {
    expect(await getCutPlan(database.db, stranger.organiser, swapId, asked)).toBeNull()
    expect(await getCutPlan(database.db, group.organiser, 'no-swap', asked)).toBeNull()
    expect(await getCutPlan(database.db, group.organiser, database.db.newId(), asked)).toBeNull()
  })
})
