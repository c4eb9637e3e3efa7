import { mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { type PhotoStore, photoPath } from '#lib/platform/photos/photo-store.ts'

const isMissing = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === 'ENOENT'

/** Pictures in a folder of this computer, readable by the application's user alone. */
export function diskPhotos(folder: string): PhotoStore {
  return {
    async put(key, bytes) {
      const file = join(folder, photoPath(key))
      await mkdir(dirname(file), { recursive: true, mode: 0o700 })
      // A reader must never meet half a picture.
      const draft = `${file}.part`
      await writeFile(draft, bytes, { mode: 0o600 })
      await rename(draft, file)
    },
    async get(key) {
      try {
        return await readFile(join(folder, photoPath(key)))
      } catch (error) {
        if (isMissing(error)) return null
        throw error
      }
    },
    remove: (key) => rm(join(folder, photoPath(key)), { force: true }),
  }
}
