/** Solves L Lᵀ x = b in place, for the factor that `cholesky` leaves in the lower triangle. */
export function solveCholesky(factor: Float64Array, size: number, x: Float64Array): void {
  for (let i = 0; i < size; i++) {
    const at = i * size
    let sum = x[i] as number
    for (let k = 0; k < i; k++) sum -= (factor[at + k] as number) * (x[k] as number)
    x[i] = sum / (factor[at + i] as number)
  }
  for (let i = size - 1; i >= 0; i--) {
    const at = i * size
    const value = (x[i] as number) / (factor[at + i] as number)
    x[i] = value
    for (let k = 0; k < i; k++) x[k] = (x[k] as number) - (factor[at + k] as number) * value
  }
}
