export const storeHref = (slug: string, storeId: string): string => `/g/${slug}/wood/stores/${storeId}`

/** The preview of a file that waits for its import. */
export const importHref = (slug: string, storeId: string, draftId: string): string =>
  `${storeHref(slug, storeId)}/import/${draftId}`
