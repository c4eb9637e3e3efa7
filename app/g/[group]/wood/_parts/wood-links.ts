import type { WoodSort, WoodState } from '#lib/wood/view.ts'

/** What the list is narrowed to, as it stands in the address. */
export interface WoodAddress {
  readonly state?: WoodState | undefined
  readonly crop?: string | undefined
  readonly store?: string | undefined
  readonly sort?: WoodSort | undefined
  readonly season?: number | undefined
  readonly page?: number | undefined
}

/** The address of the list; what is usual is left out. */
export function woodHref(slug: string, address: WoodAddress = {}): string {
  const query = new URLSearchParams()
  for (const [name, value] of Object.entries(address)) {
    const isUsual = value === 'kept' || value === 'first' || (name === 'page' && value === 1)
    if (value !== undefined && value !== '' && !isUsual) query.set(name, String(value))
  }
  const text = query.toString()
  return `/g/${slug}/wood${text ? `?${text}` : ''}`
}

export const lotHref = (slug: string, code: string): string => `/g/${slug}/wood/${code}`
