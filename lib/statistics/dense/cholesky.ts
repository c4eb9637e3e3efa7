/** Four scalar products at once: rows `a`, `a + size` … of `matrix` against one row, over the first `length` entries. */
function fourProducts(
  matrix: Float64Array,
  size: number,
  a: number,
  b: number,
  length: number,
  out: Float64Array,
): void {
  const [a1, a2, a3] = [a + size, a + 2 * size, a + 3 * size]
  let s0 = 0
  let s1 = 0
  let s2 = 0
  let s3 = 0
  for (let k = 0; k < length; k++) {
    const shared = matrix[b + k] as number
    s0 += (matrix[a + k] as number) * shared
    s1 += (matrix[a1 + k] as number) * shared
    s2 += (matrix[a2 + k] as number) * shared
    s3 += (matrix[a3 + k] as number) * shared
  }
  out[0] = s0
  out[1] = s1
  out[2] = s2
  out[3] = s3
}

const products = new Float64Array(4)

/** One row of the factor from column `from` on; the earlier ones are there. False when the pivot is not positive. */
function finishRow(matrix: Float64Array, size: number, row: number, from: number): boolean {
  const at = row * size
  for (let column = from; column <= row; column++) {
    const other = column * size
    let sum = matrix[at + column] as number
    for (let k = 0; k < column; k++) sum -= (matrix[at + k] as number) * (matrix[other + k] as number)
    if (column < row) matrix[at + column] = sum / (matrix[other + column] as number)
    else if (sum > 0) matrix[at + column] = Math.sqrt(sum)
    else return false
  }
  return true
}

/**
 * Replaces the lower triangle of a symmetric matrix (row by row, `size` × `size`) by its Cholesky factor. Returns
 * whether the matrix is positive definite; when it is not, what is left in it means nothing.
 */
export function cholesky(matrix: Float64Array, size: number): boolean {
  let row = 0
  // Four rows at a time: four sums run side by side and share what they load.
  for (; row + 4 <= size; row += 4) {
    const at = row * size
    for (let column = 0; column < row; column++) {
      const other = column * size
      fourProducts(matrix, size, at, other, column, products)
      const pivot = matrix[other + column] as number
      for (let r = 0; r < 4; r++) {
        const entry = at + r * size + column
        matrix[entry] = ((matrix[entry] as number) - (products[r] as number)) / pivot
      }
    }
    for (let r = 0; r < 4; r++) if (!finishRow(matrix, size, row + r, row)) return false
  }
  for (; row < size; row++) if (!finishRow(matrix, size, row, 0)) return false
  return true
}
