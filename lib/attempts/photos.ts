import type { Actor } from '#lib/access/actor.ts'
import { notAllowed } from '#lib/access/policy.ts'
import type { RecordCheckInput } from '#lib/attempts/input.ts'
import { isTheirsToChange } from '#lib/attempts/lock-attempt.ts'
import { type RecordedCheck, recordCheck } from '#lib/attempts/record-check.ts'
import type { AttemptsRefusal } from '#lib/attempts/refusals.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'
import { writeAudit } from '#lib/people/write-audit.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { databaseErrorOf } from '#lib/platform/database/errors.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { type CleanPhoto, cleanPhoto } from '#lib/platform/photos/clean-photo.ts'
import type { PhotoStore } from '#lib/platform/photos/photo-store.ts'

/** As many pictures as a look may have. */
const mostPerCheck = 6

const ofCheck = { attempt: { select: { id: true, growerId: true, recordedById: true } } } as const

async function writeRow(
  db: Database,
  actor: Actor,
  checkId: string,
  photo: CleanPhoto & { readonly id: string },
): Promise<Result<{ readonly photoId: string }, AttemptsRefusal>> {
  const { groupId } = actor
  return transact<{ readonly photoId: string }, AttemptsRefusal>(db, async (tx) => {
    const check = await tx.outcomeCheck.findUnique({
      where: { groupId_id: { groupId, id: checkId } },
      include: { ...ofCheck, photos: { where: { removedAt: null }, select: { sha256: true } } },
    })
    if (!check) return refuse({ kind: 'not-found' })
    if (!isTheirsToChange(actor, check.attempt)) return refuse(notAllowed('act-for-others'))
    if (check.photos.length >= mostPerCheck) return refuse({ kind: 'enough-photos', most: mostPerCheck })
    await tx.photo.create({
      data: {
        groupId,
        id: photo.id,
        checkId,
        sha256: photo.sha256,
        width: photo.width,
        height: photo.height,
        bytes: photo.bytes.length,
        addedById: actor.memberId,
        addedAt: db.now(),
      },
    })
    await writeAudit(tx, db, actor, { action: 'add-photo', subject: `attempt:${check.attempt.id}` })
    return ok({ photoId: photo.id })
  })
}

const isThereAlready = (error: unknown): boolean => databaseErrorOf(error)?.sqlstate === '23505'

async function keepPhoto(
  db: Database,
  photos: PhotoStore,
  actor: Actor,
  checkId: string,
  cleaned: CleanPhoto,
): Promise<Result<{ readonly photoId: string | null }, AttemptsRefusal>> {
  const id = db.newId()
  const key = { groupId: actor.groupId, photoId: id }
  // The picture first: a row without its picture would show a hole, a picture without its row is nobody's.
  await photos.put(key, cleaned.bytes)
  try {
    const written = await writeRow(db, actor, checkId, { ...cleaned, id })
    if (!written.ok) await photos.remove(key)
    return written
  } catch (error) {
    await photos.remove(key)
    // The same picture of the same look: a second click.
    if (isThereAlready(error)) return ok({ photoId: null })
    throw error
  }
}

/**
 * Records a look together with a picture of it. The picture is looked at first, so that one which is no picture
 * leaves nothing behind; sent again with the same key, neither is there twice.
 *
 * @param upload what was sent, unopened; null without a picture
 */
export async function recordCheckWithPhoto(
  db: Database,
  photos: PhotoStore,
  actor: Actor,
  input: RecordCheckInput,
  upload: Uint8Array | null,
): Promise<Result<RecordedCheck, AttemptsRefusal>> {
  const cleaned = upload === null ? null : await cleanPhoto(upload)
  if (cleaned && !cleaned.ok) return cleaned
  const recorded = await recordCheck(db, actor, input)
  if (!recorded.ok || !cleaned) return recorded
  const kept = await keepPhoto(db, photos, actor, recorded.value.checkId, cleaned.value)
  return kept.ok ? recorded : kept
}

/** A picture's bytes, for those who may see the look or the tree that it is of; null for everybody else. */
export async function readPhoto(
  db: Database,
  photos: PhotoStore,
  actor: Actor,
  photoId: string,
): Promise<Uint8Array | null> {
  if (!isUuid(photoId)) return null
  const { groupId } = actor
  const photo = await db.prisma.photo.findUnique({
    where: { groupId_id: { groupId, id: photoId } },
    include: { check: { include: ofCheck } },
  })
  if (!photo || photo.removedAt !== null) return null
  if (photo.check && !isTheirsToChange(actor, photo.check.attempt)) return null
  return photos.get({ groupId, photoId })
}

/** Takes a picture away for good: its file is deleted, and that there was one stays to be read. */
export async function removePhoto(
  db: Database,
  photos: PhotoStore,
  actor: Actor,
  input: { readonly photoId: string },
): Promise<Result<{ readonly attemptId: string | null }, AttemptsRefusal>> {
  const { groupId, memberId } = actor
  const { photoId } = input
  const removed = await transact<{ readonly attemptId: string | null }, AttemptsRefusal>(db, async (tx) => {
    const photo = await tx.photo.findUnique({
      where: { groupId_id: { groupId, id: photoId } },
      include: { check: { include: ofCheck } },
    })
    const attempt = photo?.check?.attempt
    if (!photo || !attempt) return refuse({ kind: 'not-found' })
    if (!isTheirsToChange(actor, attempt)) return refuse(notAllowed('act-for-others'))
    if (photo.removedAt === null) {
      await tx.photo.update({
        where: { groupId_id: { groupId, id: photoId } },
        data: { removedAt: db.now(), removedById: memberId },
      })
      await writeAudit(tx, db, actor, { action: 'remove-photo', subject: `attempt:${attempt.id}` })
    }
    return ok({ attemptId: attempt.id })
  })
  if (removed.ok) await photos.remove({ groupId, photoId })
  return removed
}
