/** Row `column` of `inverted` takes the column of L⁻¹ from its diagonal down. */
function invertColumn(factor: Float64Array, size: number, column: number, inverted: Float64Array): void {
  const at = column * size
  inverted[at + column] = 1 / (factor[at + column] as number)
  for (let i = column + 1; i < size; i++) {
    const row = i * size
    let sum = 0
    for (let k = column; k < i; k++) sum += (factor[row + k] as number) * (inverted[at + k] as number)
    inverted[at + i] = -sum / (factor[row + i] as number)
  }
}

/** Four columns side by side from row `column + 4` on: they share what they load of the factor. */
function invertFourColumns(factor: Float64Array, size: number, column: number, inverted: Float64Array): void {
  const [a0, a1, a2, a3] = [0, 1, 2, 3].map((r) => (column + r) * size) as [number, number, number, number]
  for (let r = 0; r < 4; r++) {
    const at = (column + r) * size
    for (let k = column; k < column + r; k++) inverted[at + k] = 0
    inverted[at + column + r] = 1 / (factor[at + column + r] as number)
    for (let i = column + r + 1; i < column + 4; i++) {
      let sum = 0
      for (let k = column + r; k < i; k++)
        sum += (factor[i * size + k] as number) * (inverted[at + k] as number)
      inverted[at + i] = -sum / (factor[i * size + i] as number)
    }
  }
  for (let i = column + 4; i < size; i++) {
    const row = i * size
    let s0 = 0
    let s1 = 0
    let s2 = 0
    let s3 = 0
    for (let k = column; k < i; k++) {
      const shared = factor[row + k] as number
      s0 += shared * (inverted[a0 + k] as number)
      s1 += shared * (inverted[a1 + k] as number)
      s2 += shared * (inverted[a2 + k] as number)
      s3 += shared * (inverted[a3 + k] as number)
    }
    const scale = -1 / (factor[row + i] as number)
    inverted[a0 + i] = s0 * scale
    inverted[a1 + i] = s1 * scale
    inverted[a2 + i] = s2 * scale
    inverted[a3 + i] = s3 * scale
  }
}

/** Eight scalar products side by side: two rows from `a` against four from `b`, from entry `from` on. */
function eightProducts(m: Float64Array, size: number, a: number, b: number, from: number): void {
  const [a1, b1, b2, b3] = [a + size, b + size, b + 2 * size, b + 3 * size]
  let s00 = 0
  let s01 = 0
  let s02 = 0
  let s03 = 0
  let s10 = 0
  let s11 = 0
  let s12 = 0
  let s13 = 0
  for (let k = from; k < size; k++) {
    const x = m[a + k] as number
    const y = m[a1 + k] as number
    const c0 = m[b + k] as number
    const c1 = m[b1 + k] as number
    const c2 = m[b2 + k] as number
    const c3 = m[b3 + k] as number
    s00 += x * c0
    s01 += x * c1
    s02 += x * c2
    s03 += x * c3
    s10 += y * c0
    s11 += y * c1
    s12 += y * c2
    s13 += y * c3
  }
  products[0] = s00
  products[1] = s01
  products[2] = s02
  products[3] = s03
  products[4] = s10
  products[5] = s11
  products[6] = s12
  products[7] = s13
}

const products = new Float64Array(8)

function oneProduct(m: Float64Array, a: number, b: number, from: number, to: number): number {
  let sum = 0
  for (let k = from; k < to; k++) sum += (m[a + k] as number) * (m[b + k] as number)
  return sum
}

/** The rows of `inverted` (L⁻ᵀ) multiplied with one another: (L Lᵀ)⁻¹, both triangles. */
function multiplyRows(inverted: Float64Array, size: number, inverse: Float64Array): void {
  for (let i = 0; i < size; i += 2) {
    const rows = Math.min(2, size - i)
    let j = 0
    for (; rows === 2 && j + 4 <= i + 1; j += 4) {
      // L⁻ᵀ is upper triangular: nothing before the later of the two rows counts, and row i's entry i alone is missed.
      eightProducts(inverted, size, i * size, j * size, i + 1)
      for (let c = 0; c < 4; c++) {
        const first = (inverted[i * size + i] as number) * (inverted[(j + c) * size + i] as number)
        inverse[i * size + j + c] = (products[c] as number) + first
        inverse[(i + 1) * size + j + c] = products[4 + c] as number
      }
    }
    for (let r = i; r < i + rows; r++) {
      for (let c = j; c <= r; c++) inverse[r * size + c] = oneProduct(inverted, r * size, c * size, r, size)
      for (let c = 0; c < r; c++) inverse[c * size + r] = inverse[r * size + c] as number
    }
  }
}

/**
 * The inverse of a matrix from the factor that `cholesky` left of it, into `inverse`; `scratch` is as large and is
 * overwritten.
 */
export function invertCholesky(
  factor: Float64Array,
  size: number,
  inverse: Float64Array,
  scratch: Float64Array,
): void {
  let column = 0
  for (; column + 4 <= size; column += 4) invertFourColumns(factor, size, column, scratch)
  for (; column < size; column++) invertColumn(factor, size, column, scratch)
  multiplyRows(scratch, size, inverse)
}
