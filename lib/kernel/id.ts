/**
 * A UUID version 7 (RFC 9562 §5.7): its first 48 bits are the time, so keys made later sort later.
 *
 * @param atMs milliseconds since the epoch
 * @param random ten random bytes
 */
export function uuidV7(atMs: number, random: Uint8Array): string {
  if (random.length < 10) throw new RangeError('Ten random bytes are needed')
  const bytes = new Uint8Array(16)
  for (let i = 0, rest = atMs; i < 6; i++) {
    bytes[5 - i] = rest % 256
    rest = Math.floor(rest / 256)
  }
  bytes.set(random.subarray(0, 10), 6)
  bytes[6] = 0x70 | ((bytes[6] ?? 0) & 0x0f)
  bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f)
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('')
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-')
}

const uuidPattern = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i

/** Whether a text from an address or a form can be an id at all. */
export const isUuid = (text: string): boolean => uuidPattern.test(text)
