import type { MixedLogitInput } from '#lib/statistics/mixed-logit/mixed-logit-input.ts'

/** The first row of each cell, and the cell's counts. */
export interface MergedRows {
  readonly rows: Int32Array
  readonly successes: Float64Array
  readonly trials: Float64Array
}

const float = new Float64Array(1)
const halves = new Uint32Array(float.buffer)

function hashOf({ fixed, groupings }: MixedLogitInput, row: number): number {
  const values = fixed[row] as ArrayLike<number>
  let hash = 0x811c9dc5
  for (let i = 0; i < values.length; i++) {
    // Adding 0 makes −0 the same as 0.
    float[0] = (values[i] as number) + 0
    hash = Math.imul(hash ^ (halves[0] as number), 0x01000193)
    hash = Math.imul(hash ^ (halves[1] as number) ^ (hash >>> 15), 0x01000193)
  }
  for (const levels of groupings) {
    hash = Math.imul(hash ^ (levels[row] as number), 0x01000193)
    hash ^= hash >>> 13
  }
  return Math.imul(hash, 0x5bd1e995) ^ (hash >>> 16)
}

function isAlike({ fixed, groupings }: MixedLogitInput, a: number, b: number): boolean {
  for (const levels of groupings) if (levels[a] !== levels[b]) return false
  const left = fixed[a] as ArrayLike<number>
  const right = fixed[b] as ArrayLike<number>
  for (let i = 0; i < left.length; i++) if (left[i] !== right[i]) return false
  return true
}

/**
 * Rows with the same design and levels as one: the likelihood stays what it was, and the work depends on how many
 * different rows there are. Rows without trials are dropped.
 */
export function mergeRows(input: MixedLogitInput): MergedRows {
  const { successes, trials } = input
  const count = successes.length
  const mask = 2 ** Math.ceil(Math.log2(2 * count + 1)) - 1
  const table = new Int32Array(mask + 1).fill(-1)
  const rows = new Int32Array(count)
  const tookOf = new Float64Array(count)
  const triedOf = new Float64Array(count)
  let cells = 0
  for (let row = 0; row < count; row++) {
    if (trials[row] === 0) continue
    let place = hashOf(input, row) & mask
    let cell = table[place] as number
    while (cell >= 0 && !isAlike(input, rows[cell] as number, row)) {
      place = (place + 1) & mask
      cell = table[place] as number
    }
    if (cell < 0) {
      cell = cells++
      table[place] = cell
      rows[cell] = row
    }
    tookOf[cell] = (tookOf[cell] as number) + (successes[row] as number)
    triedOf[cell] = (triedOf[cell] as number) + (trials[row] as number)
  }
  return { rows: rows.slice(0, cells), successes: tookOf.slice(0, cells), trials: triedOf.slice(0, cells) }
}
