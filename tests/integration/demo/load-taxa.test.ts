import { expect, test } from 'vitest'
import { loadTaxa } from '#seed/reference/load-taxa.ts'
import { taxa } from '#seed/reference/taxa.ts'
import { testDatabase } from '#tests/support/database.ts'

const database = testDatabase()

test('the first run loads every taxon, the second writes nothing', async () => {
  expect(await loadTaxa(database.db)).toBe(taxa.length)
  expect(await loadTaxa(database.db)).toBe(0)
  const quince = await database.db.prisma.taxon.findUnique({ where: { key: 'cydonia-oblonga' } })
  expect(quince).toMatchObject({
    genus: 'Cydonia',
    species: 'oblonga',
    family: 'Rosaceae',
    storageProfile: 'quince',
  })
})

test('a taxon that differs is corrected, and one that the list does not know stays', async () => {
  const { db } = database
  await loadTaxa(db)
  await db.prisma.taxon.update({ where: { key: 'malus-domestica' }, data: { commonName: 'Aple' } })
  const own = { key: 'rubus-idaeus', genus: 'Rubus', species: 'idaeus', commonName: 'Raspberry' }
  await db.prisma.taxon.create({ data: { ...own, family: 'Rosaceae', storageProfile: 'unknown_decid' } })
  expect(await loadTaxa(db)).toBe(1)
  expect(await db.prisma.taxon.findUnique({ where: { key: 'malus-domestica' } })).toMatchObject({
    commonName: 'Apple',
  })
  expect(await db.prisma.taxon.findUnique({ where: { key: 'rubus-idaeus' } })).toMatchObject(own)
})
