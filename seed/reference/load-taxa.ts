import type { Database } from '#lib/platform/database/database.ts'
import { taxa } from '#seed/reference/taxa.ts'

const rows = taxa.map(({ key, genus, species, commonName, family, storageProfile }) => ({
  key,
  genus,
  species,
  commonName,
  family,
  storageProfile,
}))

/**
 * Brings the botanical names of a database up to those of this copy: adds what is missing, corrects what differs,
 * and takes nothing away, because varieties may stand on it. A second run writes nothing.
 *
 * @returns how many rows were added or corrected.
 */
export async function loadTaxa(db: Database): Promise<number> {
  const present = new Map((await db.prisma.taxon.findMany()).map((taxon) => [taxon.key, taxon]))
  const missing = rows.filter((row) => !present.has(row.key))
  const { count } = await db.prisma.taxon.createMany({ data: missing, skipDuplicates: true })
  const changed = rows.filter((row) => {
    const taxon = present.get(row.key)
    return (
      taxon !== undefined &&
      (taxon.genus !== row.genus ||
        taxon.species !== row.species ||
        taxon.commonName !== row.commonName ||
        taxon.family !== row.family ||
        taxon.storageProfile !== row.storageProfile)
    )
  })
  for (const { key, ...data } of changed) await db.prisma.taxon.update({ where: { key }, data })
  return count + changed.length
}
