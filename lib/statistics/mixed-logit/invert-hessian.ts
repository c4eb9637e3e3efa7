import { invertCholesky } from '#lib/statistics/dense/invert-cholesky.ts'
import type { Workspace } from '#lib/statistics/mixed-logit/workspace.ts'

/** The rows of the inner inverse at four columns times the outer level's own row, into `inverseCross`. */
function fourRows(space: Workspace, at: number, from: number, to: number): void {
  const { data, cross, inverse, inverseCross } = space
  const { columns, innerLevels } = data
  const a0 = (columns[at] as number) * innerLevels
  const a1 = (columns[at + 1] as number) * innerLevels
  const a2 = (columns[at + 2] as number) * innerLevels
  const a3 = (columns[at + 3] as number) * innerLevels
  let s0 = 0
  let s1 = 0
  let s2 = 0
  let s3 = 0
  for (let j = from; j < to; j++) {
    const column = columns[j] as number
    const shared = cross[j] as number
    s0 += (inverse[a0 + column] as number) * shared
    s1 += (inverse[a1 + column] as number) * shared
    s2 += (inverse[a2 + column] as number) * shared
    s3 += (inverse[a3 + column] as number) * shared
  }
  inverseCross[at] = s0
  inverseCross[at + 1] = s1
  inverseCross[at + 2] = s2
  inverseCross[at + 3] = s3
}

function oneRow(
  { data, cross, inverse, inverseCross }: Workspace,
  at: number,
  from: number,
  to: number,
): void {
  const row = (data.columns[at] as number) * data.innerLevels
  let sum = 0
  for (let j = from; j < to; j++) {
    sum += (inverse[row + (data.columns[j] as number)] as number) * (cross[j] as number)
  }
  inverseCross[at] = sum
}

/** The parts of H⁻¹ that the data touch: the outer diagonal, the pattern, and all of the inner block. */
export function invertHessian(space: Workspace): void {
  const { data, diagonal, cross, schur, inverse, scratch, inverseDiagonal, inverseCross } = space
  const { outerLevels, innerLevels, columnStart } = data
  invertCholesky(schur, innerLevels, inverse, scratch)
  for (let outer = 0; outer < outerLevels; outer++) {
    const from = columnStart[outer] as number
    const to = columnStart[outer + 1] as number
    const pivot = diagonal[outer] as number
    let at = from
    for (; at + 4 <= to; at += 4) fourRows(space, at, from, to)
    for (; at < to; at++) oneRow(space, at, from, to)
    let own = 1
    for (let i = from; i < to; i++) {
      const share = (inverseCross[i] as number) / pivot
      own += (cross[i] as number) * share
      inverseCross[i] = -share
    }
    inverseDiagonal[outer] = own / pivot
  }
}
