import { createHash, createHmac, timingSafeEqual } from 'node:crypto'
import { isUuid } from '#lib/kernel/id.ts'

/** What a token opens; one made for another purpose opens nothing. */
export type TokenPurpose = 'answer' | 'stop-reminders' | 'stop-week-mail' | 'calendar'

const idBytes = 16
const signatureBytes = 32

function sign(secret: string, purpose: TokenPurpose, payload: Buffer): Buffer {
  return createHmac('sha256', secret).update(`tallywood ${purpose}\n`).update(payload).digest()
}

const bytesOf = (ids: readonly string[]): Buffer => {
  const stranger = ids.find((id) => !isUuid(id))
  if (stranger !== undefined) throw new RangeError(`Not an id: ${stranger}`)
  return Buffer.from(ids.join('').replaceAll('-', ''), 'hex')
}

function idsOf(payload: Buffer): string[] {
  const count = payload.length / idBytes
  return Array.from({ length: count }, (_, i) => {
    const hex = payload.subarray(i * idBytes, (i + 1) * idBytes).toString('hex')
    return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-')
  })
}

/**
 * A signed token for an address: the ids it speaks of and an HMAC-SHA-256 over them and its purpose. It can be made
 * again from the ids, so nothing secret has to be kept to show it twice.
 */
export function makeToken(secret: string, purpose: TokenPurpose, ids: readonly string[]): string {
  const payload = bytesOf(ids)
  return Buffer.concat([payload, sign(secret, purpose, payload)]).toString('base64url')
}

/** The ids of a token that this installation signed for this purpose; null for anything else. */
export function readToken(secret: string, purpose: TokenPurpose, token: string): readonly string[] | null {
  if (!/^[\w-]{1,200}$/.test(token)) return null
  const bytes = Buffer.from(token, 'base64url')
  const payload = bytes.subarray(0, bytes.length - signatureBytes)
  if (payload.length === 0 || payload.length % idBytes !== 0) return null
  if (bytes.toString('base64url') !== token) return null
  const isOurs = timingSafeEqual(bytes.subarray(payload.length), sign(secret, purpose, payload))
  return isOurs ? idsOf(payload) : null
}

/** What is kept of a token: its SHA-256 in hex. */
export const tokenHashOf = (token: string): string => createHash('sha256').update(token).digest('hex')
