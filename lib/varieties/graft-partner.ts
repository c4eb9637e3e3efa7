import type { GraftPartner } from '#lib/grafting/rootstocks.ts'

/** What of a variety has to be read to know what it goes together with. */
export const partnerShape = {
  select: {
    name: true,
    synonyms: { select: { name: true } },
    taxon: { select: { key: true, family: true, storageProfile: true } },
  },
} as const

interface PartnerRow {
  readonly name: string
  readonly synonyms: readonly { readonly name: string }[]
  readonly taxon: { readonly key: string; readonly family: string }
}

/** A variety as compatibility sees it. */
export const partnerOf = ({ name, synonyms, taxon }: PartnerRow): GraftPartner => ({
  taxonKey: taxon.key,
  family: taxon.family,
  names: [name, ...synonyms.map((synonym) => synonym.name)],
})
