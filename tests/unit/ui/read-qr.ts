/**
 * Reads a QR code of version 1, in numeric or alphanumeric mode, from its modules, without correcting errors.
 * Source: ISO/IEC 18004:2015, sections 7.3.4 (mode), 7.7.3 (placement), 7.8 (masks), 7.9 (format information).
 */
export function readQr(modules: readonly (readonly boolean[])[]): { level: string; text: string } {
  const dark = (x: number, y: number) => modules[y]?.[x] === true
  const format = formatBits(dark) ^ 0x5412
  const level = ['M', 'L', 'H', 'Q'][format >> 13] ?? ''
  const bits = dataBits(dark, (format >> 10) & 7)
  const number = (from: number, length: number) => Number.parseInt(bits.slice(from, from + length), 2)
  const mode = number(0, 4)
  if (mode === 0b0001) return { level, text: readDigits(number) }
  if (mode === 0b0010) return { level, text: readAlphanumeric(number) }
  throw new Error('Neither in numeric nor in alphanumeric mode')
}

type ReadNumber = (from: number, length: number) => number

function readDigits(number: ReadNumber): string {
  const length = number(4, 10)
  let text = ''
  let at = 14
  while (text.length < length) {
    const digits = Math.min(3, length - text.length)
    const width = [0, 4, 7, 10][digits] ?? 0
    text += String(number(at, width)).padStart(digits, '0')
    at += width
  }
  return text
}

function readAlphanumeric(number: ReadNumber): string {
  const characters = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:'
  const length = number(4, 9)
  let text = ''
  let at = 13
  while (text.length < length) {
    const isPair = length - text.length > 1
    const value = number(at, isPair ? 11 : 6)
    text += isPair
      ? characters.charAt(Math.floor(value / 45)) + characters.charAt(value % 45)
      : characters.charAt(value)
    at += isPair ? 11 : 6
  }
  return text
}

type Dark = (x: number, y: number) => boolean

// Fifteen bits around the upper left finder, the highest first.
function formatBits(dark: Dark): number {
  const places = [
    ...[0, 1, 2, 3, 4, 5, 7, 8].map((x) => [x, 8] as const),
    ...[7, 5, 4, 3, 2, 1, 0].map((y) => [8, y] as const),
  ]
  return places.reduce((bits, [x, y]) => (bits << 1) | (dark(x, y) ? 1 : 0), 0)
}

const masks: readonly ((x: number, y: number) => boolean)[] = [
  (x, y) => (x + y) % 2 === 0,
  (_x, y) => y % 2 === 0,
  (x) => x % 3 === 0,
  (x, y) => (x + y) % 3 === 0,
  (x, y) => (Math.floor(y / 2) + Math.floor(x / 3)) % 2 === 0,
  (x, y) => ((x * y) % 2) + ((x * y) % 3) === 0,
  (x, y) => (((x * y) % 2) + ((x * y) % 3)) % 2 === 0,
  (x, y) => (((x + y) % 2) + ((x * y) % 3)) % 2 === 0,
]

const isFunction = (x: number, y: number) =>
  x === 6 || y === 6 || (x < 9 && y < 9) || (x > 12 && y < 9) || (x < 9 && y > 12)

// In pairs of columns from the right, up and down in turn, the timing column left out.
function dataBits(dark: Dark, mask: number): string {
  const flips = masks[mask] ?? (() => false)
  let bits = ''
  let isUpward = true
  for (const right of [20, 18, 16, 14, 12, 10, 8, 5, 3, 1]) {
    for (let step = 0; step < 21; step++) {
      const y = isUpward ? 20 - step : step
      for (const x of [right, right - 1])
        if (!isFunction(x, y)) bits += dark(x, y) !== flips(x, y) ? '1' : '0'
    }
    isUpward = !isUpward
  }
  return bits
}
