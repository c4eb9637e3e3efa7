import { isUuid } from '#lib/kernel/id.ts'

/** Where pictures are kept, each under the ids of its group and of itself. */
export interface PhotoStore {
  put(key: PhotoKey, bytes: Uint8Array): Promise<void>
  /** Null when nothing is kept under the key. */
  get(key: PhotoKey): Promise<Uint8Array | null>
  /** Nothing happens when nothing is there. */
  remove(key: PhotoKey): Promise<void>
}

export interface PhotoKey {
  readonly groupId: string
  readonly photoId: string
}

/** The name of a picture below the store's root. Throws when the key is not made of ids. */
export function photoPath({ groupId, photoId }: PhotoKey): string {
  if (!isUuid(groupId) || !isUuid(photoId)) throw new RangeError('A photo is kept under two ids')
  return `${groupId.toLowerCase()}/${photoId.toLowerCase()}.jpg`
}
