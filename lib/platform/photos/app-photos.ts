import { env } from '#lib/platform/env.ts'
import { diskPhotos } from '#lib/platform/photos/disk-photos.ts'
import type { PhotoStore } from '#lib/platform/photos/photo-store.ts'

let opened: Promise<PhotoStore> | null = null

async function open(): Promise<PhotoStore> {
  const { photos } = env()
  if (photos.kind === 'disk') return diskPhotos(photos.folder)
  // Read only where it is used: the client of the storage is large.
  const { s3Photos } = await import('#lib/platform/photos/s3-photos.ts')
  return s3Photos(photos.settings)
}

/** Where this installation keeps pictures: a folder, or the storage that it is told of. */
export function appPhotos(): Promise<PhotoStore> {
  opened ??= open()
  return opened
}
