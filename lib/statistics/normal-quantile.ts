/** Σ coefficients[i] · x^i, by Horner's rule. */
const polynomial = (coefficients: readonly number[], x: number) =>
  coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0)

const central = {
  top: [
    3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987,
    67265.7709270087, 33430.57558358813, 2509.0809287301227,
  ],
  bottom: [
    1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271,
    28729.085735721943, 5226.495278852854,
  ],
}

const tail = {
  top: [
    1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684,
    0.2417807251774506, 0.022723844989269184, 0.0007745450142783414,
  ],
  bottom: [
    1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
    0.0005475938084995345, 1.0507500716444169e-9,
  ],
}

const farTail = {
  top: [
    6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
    0.0012426609473880784, 0.000027115555687434876, 2.0103343992922881e-7,
  ],
  bottom: [
    1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133,
    0.000018463183175100548, 1.421511758316446e-7, 2.0442631033899397e-15,
  ],
}

/**
 * The standard normal quantile: the z below which a share `p` lies. −Infinity at 0, Infinity at 1; throws
 * RangeError outside 0 to 1. About 16 correct digits.
 *
 * Source: M. J. Wichura, "Algorithm AS 241: the percentage points of the normal distribution", Applied
 * Statistics 37(3):477–484, 1988 (routine PPND16).
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`A probability lies between 0 and 1, not ${p}`)
  if (p === 0 || p === 1) return p === 0 ? -Infinity : Infinity
  const fromHalf = p - 0.5
  if (Math.abs(fromHalf) <= 0.425) {
    const r = 0.180625 - fromHalf * fromHalf
    return (fromHalf * polynomial(central.top, r)) / polynomial(central.bottom, r)
  }
  const root = Math.sqrt(-Math.log(Math.min(p, 1 - p)))
  const part = root <= 5 ? tail : farTail
  const r = root - (root <= 5 ? 1.6 : 5)
  return (Math.sign(fromHalf) * polynomial(part.top, r)) / polynomial(part.bottom, r)
}
