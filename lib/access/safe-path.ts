/** A path of this site to go back to, or `fallback`: an address elsewhere is never followed. */
export function safePath(wanted: string | null | undefined, fallback: string): string {
  return wanted && /^\/(?![/\\])[^\s\\]*$/.test(wanted) ? wanted : fallback
}
