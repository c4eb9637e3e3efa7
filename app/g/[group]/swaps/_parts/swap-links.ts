/** The address of a swap, or of a page of it. */
export const swapHref = (slug: string, swapId: string, page = ''): string =>
  `/g/${slug}/swaps/${swapId}${page === '' ? '' : `/${page}`}`

export interface CatalogueAddress {
  readonly crop?: string | undefined
  readonly search?: string | undefined
  readonly free?: boolean | undefined
}

/** The catalogue narrowed to something. */
export function catalogueHref(slug: string, swapId: string, address: CatalogueAddress): string {
  const query = new URLSearchParams()
  if (address.crop) query.set('crop', address.crop)
  if (address.search) query.set('search', address.search)
  if (address.free) query.set('free', 'yes')
  const asked = query.toString()
  return asked === '' ? swapHref(slug, swapId) : `${swapHref(slug, swapId)}?${asked}`
}

/** One text of an address; undefined when it is missing, empty or there twice. */
export const oneText = (value: string | string[] | undefined): string | undefined =>
  typeof value === 'string' && value.trim() !== '' ? value : undefined
