import { randomUUID } from 'node:crypto'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { RecordAttemptInput, RecordCheckInput } from '#lib/attempts/input.ts'
import { checksDue, getAttempt } from '#lib/attempts/queries.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { recordCheck } from '#lib/attempts/record-check.ts'
import { required } from '#lib/kernel/assert.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2026-05-20T10:00:00Z') })
let group: TestGroup
let attemptId: string

beforeAll(async () => {
  group = await makeGroup(database.db)
})

beforeEach(async () => {
  const lot = await makeLot(database.db, group)
  const input = RecordAttemptInput.parse({
    key: randomUUID(),
    source: 'own',
    varietyId: lot.varietyId,
    method: 'cleft',
    madeOn: '2026-04-01',
    pieces: 6,
  })
  const result = await recordAttempt(database.db, group.member, input)
  attemptId = required(result.ok ? result.value.attemptId : null, 'an attempt')
})

const look = (fields: Record<string, unknown> = {}) =>
  RecordCheckInput.parse({
    key: randomUUID(),
    attemptId,
    checkedOn: '2026-05-10',
    alive: '4',
    dead: '2',
    unknown: '',
    ...fields,
  })

const record = (actor: Actor, fields: Record<string, unknown> = {}) =>
  recordCheck(database.db, actor, look(fields))

const seen = async () => required(await getAttempt(database.db, group.member, attemptId), 'the attempt')

describe('a look at an attempt', () => {
  test('says how many are alive, dead and not known, and why some failed', async () => {
    const causes = [
      { cause: 'mould', pieces: '1' },
      { cause: 'mismatch', pieces: '' },
      { cause: 'cause-unknown', pieces: '1' },
    ]
    expect((await record(group.member, { causes, note: 'one pushed 3 cm' })).ok).toBe(true)
    const { standing } = await seen()
    expect(standing).toMatchObject({ alive: 4, dead: 2, unknown: 0, note: 'one pushed 3 cm' })
    expect(standing?.causes.map(({ cause, pieces }) => [cause, pieces]).sort()).toEqual([
      ['cause-unknown', 1],
      ['mould', 1],
    ])
  })

  test('is asked for from 30 days on, and no more once it was made', async () => {
    const due = async () =>
      (await checksDue(database.db, group.member)).filter(({ attempt }) => attempt.id === attemptId)
    expect(await due()).toMatchObject([{ look: { name: 'thirty-days', on: '2026-05-01', state: 'late' } }])
    await record(group.member)
    expect(await due()).toEqual([])
  })

  test('says which look it was, how the living stand, and why some are not known', async () => {
    const fields = { alive: 3, dead: 1, unknown: 2, checkpoint: 'thirty-days', state: 'moving' }
    expect((await record(group.member, { ...fields, unknownWhy: 'label_lost' })).ok).toBe(true)
    expect((await seen()).standing).toMatchObject({
      checkpoint: 'thirty-days',
      state: 'moving',
      unknownWhy: 'label_lost',
      isByLink: false,
    })
  })

  test('keeps a cause in the grower’s own words, and asks for the words', async () => {
    const causes = [{ cause: 'own-words', pieces: '2', words: 'The goat got in' }]
    expect((await record(group.member, { causes })).ok).toBe(true)
    expect((await seen()).standing?.causes).toEqual([
      { cause: 'own-words', label: 'The goat got in', pieces: 2 },
    ])
    const silent = [{ cause: 'own-words', pieces: '2', words: '' }]
    expect(() => look({ causes: silent })).toThrow(/your words/)
  })

  test('says nothing of the living when none are, and gives no reason when all are known', async () => {
    expect(
      (await record(group.member, { alive: 0, dead: 6, state: 'moving', unknownWhy: 'not_attempted' })).ok,
    ).toBe(true)
    expect((await seen()).standing).toMatchObject({ state: null, unknownWhy: null })
  })

  test('changes nothing on the second click', async () => {
    const input = look()
    const first = await recordCheck(database.db, group.member, input)
    expect(await recordCheck(database.db, group.member, input)).toEqual(first)
    expect((await seen()).checks).toHaveLength(1)
  })

  test('must account for every piece', async () => {
    expect(await record(group.member, { unknown: '1' })).toEqual({
      ok: false,
      refusal: { kind: 'does-not-add-up', pieces: 6, sum: 7 },
    })
  })

  test('names no more causes than there are dead', async () => {
    expect(await record(group.member, { causes: [{ cause: 'mould', pieces: '3' }] })).toEqual({
      ok: false,
      refusal: { kind: 'too-many-causes', dead: 2, named: 3 },
    })
  })

  test('takes no cause that is not the end of a piece', () => {
    const parsed = RecordCheckInput.safeParse({ ...look(), causes: [{ cause: 'not-attempted', pieces: 1 }] })
    expect(parsed.success).toBe(false)
  })

  test('is neither before the attempt nor in the future', async () => {
    expect(await record(group.member, { checkedOn: '2026-03-31' })).toEqual({
      ok: false,
      refusal: { kind: 'before-attempt', madeOn: '2026-04-01' },
    })
    expect(await record(group.member, { checkedOn: '2026-05-21' })).toEqual({
      ok: false,
      refusal: { kind: 'in-future', today: '2026-05-20' },
    })
  })

  test('counts by the day it was made, not by the day it was written down', async () => {
    await record(group.member, { checkedOn: '2026-05-18', alive: 3, dead: 3 })
    await record(group.member, { checkedOn: '2026-05-02', alive: 6, dead: 0 })
    expect((await seen()).standing).toMatchObject({ checkedOn: '2026-05-18', alive: 3 })
  })
})

describe('a correction', () => {
  test('stands in for the look it names, which stays to be read', async () => {
    const wrong = await record(group.member, { alive: 0, dead: 6 })
    const supersedesId = required(wrong.ok ? wrong.value.checkId : null, 'a look')
    expect((await record(group.member, { supersedesId, checkedOn: '2026-05-09' })).ok).toBe(true)
    const { checks, standing } = await seen()
    expect(standing).toMatchObject({ alive: 4, checkedOn: '2026-05-09', correctsId: supersedesId })
    expect(checks.map(({ alive, isCorrected }) => [alive, isCorrected])).toEqual([
      [0, true],
      [4, false],
    ])
  })

  test('is made once; the next one corrects the correction', async () => {
    const first = await record(group.member)
    const firstId = required(first.ok ? first.value.checkId : null, 'a look')
    const second = await record(group.member, { supersedesId: firstId, alive: 5, dead: 1 })
    const secondId = required(second.ok ? second.value.checkId : null, 'a look')
    expect(await record(group.member, { supersedesId: firstId })).toEqual({
      ok: false,
      refusal: { kind: 'already-corrected' },
    })
    expect((await record(group.member, { supersedesId: secondId, alive: 6, dead: 0 })).ok).toBe(true)
    expect((await seen()).standing).toMatchObject({ alive: 6 })
  })

  test('is of a look at the same attempt', async () => {
    expect(await record(group.member, { supersedesId: randomUUID() })).toEqual({
      ok: false,
      refusal: { kind: 'not-found' },
    })
  })
})

describe('who may look', () => {
  test('the grower and those who act for others, nobody else', async () => {
    expect((await record(group.helper)).ok).toBe(true)
    expect(await record(group.otherMember)).toMatchObject({ ok: false, refusal: { kind: 'not-allowed' } })
    expect(await getAttempt(database.db, group.otherMember, attemptId)).toBeNull()
    const elsewhere = await makeGroup(database.db, 'Elsewhere')
    expect(await record(elsewhere.organiser)).toEqual({ ok: false, refusal: { kind: 'not-found' } })
  })
})
