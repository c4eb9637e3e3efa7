import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto'

// OWASP password storage cheat sheet: scrypt with N = 2^17, r = 8, p = 1 as the first choice of parameters.
const cost = { N: 2 ** 17, r: 8, p: 1, maxmem: 256 * 1024 * 1024 }
const keyLength = 32

/** Longest password that is hashed; more would only serve to keep the server busy. */
export const maxPasswordLength = 200
export const minPasswordLength = 10

const derive = (password: string, salt: Buffer): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    scrypt(password.normalize('NFKC'), salt, keyLength, cost, (error, key) =>
      error ? reject(error) : resolve(key),
    )
  })

/** A salted scrypt hash, as it is stored. */
export async function hashPassword(password: string): Promise<string> {
  const salt = randomBytes(16)
  const key = await derive(password, salt)
  return `scrypt$${salt.toString('base64url')}$${key.toString('base64url')}`
}

const dummy = `scrypt$${Buffer.alloc(16).toString('base64url')}$${Buffer.alloc(keyLength).toString('base64url')}`

/** Whether a password fits its hash. Without a hash it takes as long, and is false: nobody learns who has an account. */
export async function verifyPassword(password: string, stored: string | null): Promise<boolean> {
  const [, salt = '', key = ''] = (stored ?? dummy).split('$')
  const expected = Buffer.from(key, 'base64url')
  const derived = await derive(password.slice(0, maxPasswordLength), Buffer.from(salt, 'base64url'))
  return timingSafeEqual(derived, expected) && stored !== null
}
