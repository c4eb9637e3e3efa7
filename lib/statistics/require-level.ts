/** Throws RangeError unless `level` lies between 0 and 1, both excluded. */
export function requireLevel(level: number): void {
  if (!(level > 0 && level < 1)) throw new RangeError(`A level lies between 0 and 1, not ${level}`)
}
