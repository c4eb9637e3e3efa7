import { encode } from 'uqr'

/** The modules of a QR code of version 1, level Q: 21 by 21, with room for 16 letters and figures. */
export function qrModules(code: string): boolean[][] {
  const bare = code.replaceAll('-', '').toUpperCase()
  return encode(bare, { ecc: 'Q', minVersion: 1, maxVersion: 1, border: 0 }).data
}

/** The modules of an address, level M for damp labels; as many as it needs. */
export const addressModules = (address: string): boolean[][] => encode(address, { ecc: 'M', border: 0 }).data
