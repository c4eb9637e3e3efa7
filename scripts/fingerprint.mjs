import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'

/**
 * SHA-256 over the names and contents of files and folders (walked in name order); a missing one counts as absent.
 * @param {string} root
 * @param {readonly string[]} paths relative to `root`
 * @param {readonly string[]} extra further strings that matter
 * @param {(path: string) => boolean} keep false to leave a path out
 */
export function fingerprint(root, paths, extra = [], keep = () => true) {
  const hash = createHash('sha256')
  const visit = (/** @type {string} */ path) => {
    const full = join(root, path)
    if (!existsSync(full) || !keep(path)) return
    if (statSync(full).isDirectory()) {
      for (const name of readdirSync(full).sort()) visit(`${path}/${name}`)
      return
    }
    hash.update(`${path}\0`)
    hash.update(readFileSync(full))
    hash.update('\0')
  }
  for (const path of paths) visit(path)
  for (const text of extra) hash.update(`${text}\0`)
  return hash.digest('hex')
}

/**
 * The text of a stamp file, or null.
 * @param {string} path
 */
export const readStamp = (path) => (existsSync(path) ? readFileSync(path, 'utf8').trim() : null)
