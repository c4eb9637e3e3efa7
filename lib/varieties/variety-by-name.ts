import { cultivarSearchKey, normaliseEpithet } from '#lib/grafting/cultivar-name.ts'
import type { Queries } from '#lib/platform/database/database.ts'

export type NamedVariety =
  | { readonly kind: 'found'; readonly varietyId: string }
  /** No variety of that name; with the crop it could be added. */
  | { readonly kind: 'none'; readonly taxonKey: string | null }
  /** Varieties of that name in several kinds of fruit. */
  | { readonly kind: 'several'; readonly crops: readonly string[] }
  | { readonly kind: 'no-such-crop'; readonly near: readonly string[] }

const keyOf = (text: string) => cultivarSearchKey(normaliseEpithet(text))

/** "Apples" and "apple" are one crop. */
const cropKey = (text: string) => cultivarSearchKey(text).replace(/s$/, '')

/** As many names as a message can hold. */
const nearShown = 6

/**
 * Finds varieties as a spreadsheet names them: by their own name before another name, and within a kind of fruit
 * (its common or botanical name) when one is given.
 */
export async function varietyByName(
  tx: Queries,
  groupId: string,
): Promise<(name: string, crop: string) => NamedVariety> {
  const [taxa, varieties] = [
    await tx.taxon.findMany({ orderBy: { commonName: 'asc' } }),
    await tx.variety.findMany({
      where: { groupId },
      select: {
        id: true,
        name: true,
        taxonKey: true,
        taxon: { select: { commonName: true } },
        synonyms: { select: { name: true } },
      },
    }),
  ]
  const taxonOf = (crop: string) =>
    taxa.find(({ key, genus, species, commonName }) =>
      [key, `${genus} ${species}`, commonName].some((text) => cropKey(text) === cropKey(crop)),
    )
  const near = (crop: string) =>
    taxa
      .map(({ commonName }) => commonName)
      .filter((name) => cultivarSearchKey(name).includes(cropKey(crop)))
      .slice(0, nearShown)
  const byName = new Map<string, typeof varieties>()
  const byOtherName = new Map<string, typeof varieties>()
  const put = (map: typeof byName, key: string, variety: (typeof varieties)[number]) =>
    map.set(key, [...(map.get(key) ?? []), variety])
  for (const variety of varieties) {
    put(byName, keyOf(variety.name), variety)
    for (const synonym of variety.synonyms) put(byOtherName, keyOf(synonym.name), variety)
  }
  return (name, crop) => {
    const taxon = crop === '' ? null : taxonOf(crop)
    if (taxon === undefined) return { kind: 'no-such-crop', near: near(crop) }
    const ofCrop = (found: typeof varieties = []) =>
      found.filter((variety) => taxon === null || variety.taxonKey === taxon.key)
    const own = ofCrop(byName.get(keyOf(name)))
    const found = own.length > 0 ? own : ofCrop(byOtherName.get(keyOf(name)))
    const [first, second] = found
    if (first === undefined) return { kind: 'none', taxonKey: taxon?.key ?? null }
    if (second === undefined) return { kind: 'found', varietyId: first.id }
    return { kind: 'several', crops: found.map((variety) => variety.taxon.commonName) }
  }
}
