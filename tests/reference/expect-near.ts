import { expect } from 'vitest'

/** The widest relative (or, near zero, absolute) distance that the check allows. */
export function expectNear(
  actual: number | null | undefined,
  expected: number,
  tolerance: number,
  what: string,
): void {
  const distance = Math.abs((actual ?? Number.NaN) - expected) / Math.max(1, Math.abs(expected))
  expect(distance, `${what}: ${actual} for ${expected}`).toBeLessThanOrEqual(tolerance)
}
