import { randomUUID } from 'node:crypto'
import { mkdtemp, readdir, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Actor } from '#lib/access/actor.ts'
import { RecordAttemptInput, RecordCheckInput } from '#lib/attempts/input.ts'
import { readPhoto, recordCheckWithPhoto, removePhoto } from '#lib/attempts/photos.ts'
import { getAttempt } from '#lib/attempts/queries.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { required } from '#lib/kernel/assert.ts'
import { diskPhotos } from '#lib/platform/photos/disk-photos.ts'
import type { PhotoStore } from '#lib/platform/photos/photo-store.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase({ now: () => new Date('2026-05-20T10:00:00Z') })
let group: TestGroup
let attemptId: string
let folder: string
let photos: PhotoStore

const picture = (background: string) =>
  sharp({ create: { width: 60, height: 40, channels: 3, background } })
    .png()
    .toBuffer()

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tallywood-photos-'))
  photos = diskPhotos(folder)
})
afterAll(() => rm(folder, { recursive: true }))

beforeEach(async () => {
  group = await makeGroup(database.db)
  const lot = await makeLot(database.db, group)
  const input = RecordAttemptInput.parse({
    key: randomUUID(),
    source: 'own',
    varietyId: lot.varietyId,
    method: 'cleft',
    madeOn: '2026-04-01',
    pieces: 2,
  })
  const result = await recordAttempt(database.db, group.member, input)
  attemptId = required(result.ok ? result.value.attemptId : null, 'an attempt')
})

const look = () => RecordCheckInput.parse({ key: randomUUID(), attemptId, checkedOn: '2026-05-10', alive: 2 })
const record = (actor: Actor, upload: Uint8Array, input = look()) =>
  recordCheckWithPhoto(database.db, photos, actor, input, upload)
const shown = async () =>
  (await getAttempt(database.db, group.member, attemptId))?.checks.flatMap((check) => check.photos) ?? []
const filesOfGroup = async () =>
  (await readdir(folder, { recursive: true })).filter(
    (name) => name.startsWith(group.groupId) && name.endsWith('.jpg'),
  )

describe('a photo of a look', () => {
  test('is kept with it and seen by its grower and those who act for others, by nobody else', async () => {
    expect((await record(group.member, await picture('#335533'))).ok).toBe(true)
    const [photo] = await shown()
    expect(photo).toMatchObject({ width: 60, height: 40 })
    const id = required(photo, 'a photo').id
    const read = (actor: Actor) => readPhoto(database.db, photos, actor, id)
    for (const actor of [group.member, group.helper, group.steward, group.organiser]) {
      expect((await sharp(required(await read(actor), 'its bytes')).metadata()).format).toBe('jpeg')
    }
    expect(await read(group.otherMember)).toBeNull()
    expect(await read((await makeGroup(database.db)).organiser)).toBeNull()
    expect(await readPhoto(database.db, photos, group.member, '../../secrets')).toBeNull()
  })

  test('is there once after a second click', async () => {
    const input = look()
    const upload = await picture('#553333')
    const first = await record(group.member, upload, input)
    expect(await record(group.member, upload, input)).toEqual(first)
    expect(await shown()).toHaveLength(1)
    expect(await filesOfGroup()).toHaveLength(1)
  })

  test('that is none leaves no look behind', async () => {
    expect(await record(group.member, Buffer.from('<svg/>'))).toEqual({
      ok: false,
      refusal: { kind: 'not-a-photo' },
    })
    expect(await database.db.prisma.outcomeCheck.count({ where: { attemptId } })).toBe(0)
    expect(await filesOfGroup()).toEqual([])
  })

  test('comes with a look that the actor may record, or not at all', async () => {
    const upload = await picture('#333355')
    expect(await record(group.otherMember, upload)).toMatchObject({ refusal: { kind: 'not-allowed' } })
    const stranger = (await makeGroup(database.db)).organiser
    expect(await record(stranger, upload)).toEqual({ ok: false, refusal: { kind: 'not-found' } })
    expect(await filesOfGroup()).toEqual([])
  })

  test('is one of six at most', async () => {
    const input = look()
    for (let i = 0; i < 6; i++) {
      expect((await record(group.member, await picture(`#${i}0${i}0${i}0`), input)).ok).toBe(true)
    }
    expect(await record(group.member, await picture('#ffffff'), input)).toEqual({
      ok: false,
      refusal: { kind: 'enough-photos', most: 6 },
    })
    expect(await filesOfGroup()).toHaveLength(6)
  })

  test('is removed for good by those who may, also twice', async () => {
    await record(group.member, await picture('#335533'))
    const photoId = required((await shown())[0], 'a photo').id
    const remove = (actor: Actor) => removePhoto(database.db, photos, actor, { photoId })
    expect(await remove(group.otherMember)).toMatchObject({ refusal: { kind: 'not-allowed' } })
    expect(await remove((await makeGroup(database.db)).organiser)).toMatchObject({
      refusal: { kind: 'not-found' },
    })
    expect(await remove(group.helper)).toEqual({ ok: true, value: { attemptId } })
    expect(await remove(group.helper)).toEqual({ ok: true, value: { attemptId } })
    expect(await shown()).toEqual([])
    expect(await filesOfGroup()).toEqual([])
    expect(await readPhoto(database.db, photos, group.member, photoId)).toBeNull()
  })
})
