import type { Arrangement } from '#lib/statistics/mixed-logit/arrangement.ts'
import { mergeRows } from '#lib/statistics/mixed-logit/merge-rows.ts'
import type { MixedLogitInput } from '#lib/statistics/mixed-logit/mixed-logit-input.ts'

function levelsIn(levels: ArrayLike<number>): number {
  let highest = -1
  for (let i = 0; i < levels.length; i++) highest = Math.max(highest, levels[i] as number)
  return highest + 1
}

/** `cells` put in order by one grouping, those of the same level left as they were. */
function sortedBy(cells: Int32Array, levelOf: Int32Array, levels: number): Int32Array {
  const next = new Int32Array(levels + 1)
  for (let i = 0; i < levelOf.length; i++) {
    const after = (levelOf[i] as number) + 1
    next[after] = (next[after] as number) + 1
  }
  for (let level = 0; level < levels; level++) {
    next[level + 1] = (next[level + 1] as number) + (next[level] as number)
  }
  const sorted = new Int32Array(cells.length)
  for (let i = 0; i < cells.length; i++) {
    const cell = cells[i] as number
    const level = levelOf[cell] as number
    const place = next[level] as number
    sorted[place] = cell
    next[level] = place + 1
  }
  return sorted
}

/** `values` at those places. */
function gather(values: ArrayLike<number>, at: Int32Array): Int32Array {
  const gathered = new Int32Array(at.length)
  for (let i = 0; i < at.length; i++) gathered[i] = values[at[i] as number] as number
  return gathered
}

function gatherCounts(values: Float64Array, at: Int32Array): Float64Array {
  const gathered = new Float64Array(at.length)
  for (let i = 0; i < at.length; i++) gathered[i] = values[at[i] as number] as number
  return gathered
}

type Tuples = Pick<Arrangement, 'tuples' | 'cellStart' | 'tupleOuter' | 'tupleColumn' | 'tupleStart'>

/** The first cell of each run with the same levels, and the number of cells behind the last. */
function runStarts(levelsOf: readonly Int32Array[], cells: number): Int32Array {
  const isStart = new Uint8Array(cells)
  isStart[0] = 1
  for (const levels of levelsOf) {
    for (let cell = 1; cell < cells; cell++) if (levels[cell] !== levels[cell - 1]) isStart[cell] = 1
  }
  const starts = new Int32Array(cells + 1)
  let count = 0
  for (let cell = 0; cell < cells; cell++) if (isStart[cell] === 1) starts[count++] = cell
  starts[count] = cells
  return starts.slice(0, count + 1)
}

/** Runs of cells with the same levels; `levelsOf[g][cell]` already counts inner levels as columns. */
function findTuples(levelsOf: readonly Int32Array[], cells: number, outerLevels: number): Tuples {
  const inner = levelsOf.length - 1
  const cellStart = runStarts(levelsOf, cells)
  const tuples = cellStart.length - 1
  const tupleOuter = gather(levelsOf[0] as Int32Array, cellStart.subarray(0, tuples))
  const tupleStart = new Int32Array(outerLevels + 1)
  const tupleColumn = new Int32Array(tuples * inner)
  for (let tuple = 0; tuple < tuples; tuple++) {
    const after = (tupleOuter[tuple] as number) + 1
    tupleStart[after] = (tupleStart[after] as number) + 1
  }
  for (let g = 0; g < inner; g++) {
    const levels = levelsOf[g + 1] as Int32Array
    for (let tuple = 0; tuple < tuples; tuple++) {
      tupleColumn[tuple * inner + g] = levels[cellStart[tuple] as number] as number
    }
  }
  for (let level = 0; level < outerLevels; level++) {
    tupleStart[level + 1] = (tupleStart[level + 1] as number) + (tupleStart[level] as number)
  }
  return { tuples, cellStart, tupleOuter, tupleColumn, tupleStart }
}

type Pattern = Pick<Arrangement, 'columns' | 'columnStart' | 'tupleSlot'>

/** Which columns each outer level meets. */
function findPattern(tuples: Tuples, outerLevels: number, innerLevels: number, inner: number): Pattern {
  const { tupleStart, tupleColumn } = tuples
  const columns = new Int32Array(tupleColumn.length)
  const columnStart = new Int32Array(outerLevels + 1)
  const tupleSlot = new Int32Array(tupleColumn.length)
  const slotOf = new Int32Array(innerLevels)
  const metBy = new Int32Array(innerLevels).fill(-1)
  let count = 0
  for (let level = 0; level < outerLevels; level++) {
    const from = (tupleStart[level] as number) * inner
    const to = (tupleStart[level + 1] as number) * inner
    const first = count
    for (let i = from; i < to; i++) {
      const column = tupleColumn[i] as number
      if (metBy[column] !== level) columns[count++] = column
      metBy[column] = level
    }
    columns.subarray(first, count).sort()
    for (let slot = first; slot < count; slot++) slotOf[columns[slot] as number] = slot
    for (let i = from; i < to; i++) tupleSlot[i] = slotOf[tupleColumn[i] as number] as number
    columnStart[level + 1] = count
  }
  return { columns: columns.slice(0, count), columnStart, tupleSlot }
}

/** The design matrix of the cells in their order, as one array. */
function gatherDesign(fixed: MixedLogitInput['fixed'], rows: Int32Array, width: number): Float64Array {
  const x = new Float64Array(rows.length * width)
  for (let cell = 0; cell < rows.length; cell++) {
    const row = fixed[rows[cell] as number] as ArrayLike<number>
    for (let column = 0; column < width; column++) x[cell * width + column] = row[column] as number
  }
  return x
}

/** Lays the data of a fit out; there is at least one grouping. */
export function arrangeCells(input: MixedLogitInput): Arrangement {
  const { fixed, groupings } = input
  const merged = mergeRows(input)
  const cells = merged.rows.length
  const width = fixed[0]?.length ?? 0
  const sizes = groupings.map(levelsIn)
  const order = groupings.map((_, g) => g).sort((a, b) => (sizes[b] as number) - (sizes[a] as number))
  const levels = order.map((g) => sizes[g] as number)
  const offsets = levels.map((_, place) => levels.slice(0, place).reduce((sum, size) => sum + size, 0))
  const outerLevels = levels[0] as number
  const innerLevels = levels.slice(1).reduce((sum, size) => sum + size, 0)
  const levelsOfMerged = order.map((g) => gather(groupings[g] as ArrayLike<number>, merged.rows))
  let sorted: Int32Array = new Int32Array(cells).map((_, cell) => cell)
  for (let place = order.length - 1; place >= 0; place--) {
    sorted = sortedBy(sorted, levelsOfMerged[place] as Int32Array, levels[place] as number)
  }
  const levelsOf = levelsOfMerged.map((own, place) => {
    const shift = place === 0 ? 0 : (offsets[place] as number) - outerLevels
    return gather(own, sorted).map((level) => level + shift)
  })
  const tuples = findTuples(levelsOf, cells, outerLevels)
  return {
    ...tuples,
    ...findPattern(tuples, outerLevels, innerLevels, order.length - 1),
    cells,
    width,
    x: gatherDesign(fixed, gather(merged.rows, sorted), width),
    successes: gatherCounts(merged.successes, sorted),
    trials: gatherCounts(merged.trials, sorted),
    outerLevels,
    innerLevels,
    levels,
    offsets,
    order,
  }
}
