import { type Code, parseCode } from '#lib/grafting/codes.ts'

/**
 * The code in what a camera read or somebody typed: the bare code of a flag, or the address on a bag, which ends in
 * it. Null when there is no code in it.
 */
export function scannedCode(text: string): Code | null {
  const address = /^https?:\/\/[^?#]*\/([^/?#]+)\/?(?:[?#].*)?$/iu.exec(text.trim())
  const parsed = parseCode(address?.[1] ?? text)
  return parsed.ok ? parsed.value : null
}
