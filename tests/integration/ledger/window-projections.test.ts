import { beforeAll, describe, expect, test } from 'vitest'
import { makeGroup, makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'
import { rawSqlAs } from './two-roles.ts'

const database = testDatabase()
const { owner, application } = rawSqlAs(database)

let group: TestGroup
let other: TestGroup
let lot: TestLot

beforeAll(async () => {
  group = await makeGroup(database.db)
  other = await makeGroup(database.db)
  lot = await makeLot(database.db, group)
})

const columns = `group_id, lot_id, early_at, likely_at, late_at, limited_by, no_window, profile, model, computed_at`
const insert = (values: string) => `insert into window_projection (${columns}) values ($1, $2, ${values})`
const whole = `'2027-03-01', '2027-04-01', '2027-05-01', 'reserve', null, 'apple', 'm', now()`

const attack = (values: string, role = application, groupId = group.groupId) =>
  role.attack([insert(values), [groupId, lot.lotId]])

describe('a stored window', () => {
  test('is written by the application, whole or with the reason why there is none', async () => {
    expect(await attack(whole)).toMatchObject({ state: 'accepted' })
    expect(await attack(`null, null, null, null, 'rooted-plants', null, 'm', now()`)).toMatchObject({
      state: 'accepted',
    })
  })

  test.each([
    [
      'half a window',
      `'2027-03-01', null, '2027-05-01', 'reserve', null, 'apple', 'm', now()`,
      'window_or_reason',
    ],
    ['neither window nor reason', `null, null, null, null, null, null, 'm', now()`, 'window_or_reason'],
    [
      'a window and a reason',
      `'2027-03-01', '2027-04-01', '2027-05-01', 'reserve', 'none', 'apple', 'm', now()`,
      'window_or_reason',
    ],
    [
      'limits out of order',
      `'2027-04-02', '2027-04-01', '2027-05-01', 'reserve', null, 'apple', 'm', now()`,
      'window_in_order',
    ],
    [
      'a clock that is none',
      `'2027-03-01', '2027-04-01', '2027-05-01', 'moon', null, 'apple', 'm', now()`,
      'window_limited_by_a_clock',
    ],
  ])('is never %s', async (_, values, constraint) => {
    expect(await attack(values, owner)).toMatchObject({ state: '23514', constraint })
  })

  test('is there once, for a lot of its own group', async () => {
    expect(
      await application.attack(
        [insert(whole), [group.groupId, lot.lotId]],
        [insert(whole), [group.groupId, lot.lotId]],
      ),
    ).toMatchObject({ state: '23505', constraint: 'window_projection_pkey' })
    expect(await attack(whole, owner, other.groupId)).toMatchObject({
      state: '23503',
      constraint: 'window_projection_group_id_lot_id_fkey',
    })
  })

  test('is not taken away by the application', async () => {
    expect(await application.attack('delete from window_projection')).toMatchObject({ state: '42501' })
  })
})
