import type { Actor } from '#lib/access/actor.ts'
import { mayActFor } from '#lib/access/policy.ts'
import { basisWords } from '#lib/care/basis-words.ts'
import { compatibilityOf } from '#lib/grafting/compatibility.ts'
import { compatibilitySentence } from '#lib/grafting/compatibility-sentence.ts'
import { findRootstock, type GraftPartner } from '#lib/grafting/rootstocks.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { partnerOf } from '#lib/varieties/graft-partner.ts'
import { callForWoodRows } from '#lib/wishes/call-for-wood-rows.ts'
import type { CallForWood, WantedInWords, WishRow } from '#lib/wishes/view.ts'

function onStock(scion: GraftPartner, stockName: string | null): WishRow['onStock'] {
  const stock = stockName === null ? null : findRootstock(stockName)
  if (!stock) return null
  const known = compatibilityOf(scion, stock)
  return {
    words: compatibilitySentence(known),
    warns: known.warns,
    basis: known.basis && basisWords(known.basis),
  }
}

/** Somebody's wishes for a swap, in their order; null when the actor may not see them. */
export async function wishesOf(
  db: Database,
  actor: Actor,
  swapId: string,
  memberId: string = actor.memberId,
): Promise<readonly WishRow[] | null> {
  if (!mayActFor(actor, memberId)) return null
  const wishes = await db.prisma.wish.findMany({
    where: { groupId: actor.groupId, swapId, memberId },
    include: { variety: { include: { taxon: true, synonyms: true } }, taxon: true },
    orderBy: { rank: 'asc' },
  })
  return wishes.map((wish) => ({
    wishId: wish.id,
    rank: wish.rank,
    variety: wish.variety && {
      id: wish.variety.id,
      name: wish.variety.name,
      commonName: wish.variety.taxon.commonName,
    },
    words: wish.words,
    crop: wish.taxon?.commonName ?? null,
    purpose: wish.purpose,
    sticks: wish.sticks,
    stock: wish.stock,
    onStock: wish.variety && onStock(partnerOf(wish.variety), wish.stock),
  }))
}

async function wantedInWords(db: Database, actor: Actor, swapId: string): Promise<readonly WantedInWords[]> {
  const wishes = await db.prisma.wish.findMany({
    where: { groupId: actor.groupId, swapId, words: { not: null } },
    include: { taxon: true },
    orderBy: [{ madeAt: 'asc' }, { id: 'asc' }],
  })
  const byWords = new Map<string, WantedInWords>()
  for (const wish of wishes) {
    const words = wish.words ?? ''
    const crop = wish.taxon?.commonName ?? null
    const key = `${words.trim().toLowerCase()}|${crop ?? ''}`
    const before = byWords.get(key)
    byWords.set(key, {
      words: before?.words ?? words,
      crop,
      members: (before?.members ?? 0) + 1,
      sticksWished: (before?.sticksWished ?? 0) + wish.sticks,
    })
  }
  return [...byWords.values()].sort((a, b) => b.members - a.members)
}

/** Wishes against what the group's limbs can give. Who wishes for what is not in it. */
export async function callForWood(db: Database, actor: Actor, swapId: string): Promise<CallForWood> {
  const [varieties, inWords] = await Promise.all([
    callForWoodRows(db, actor, swapId),
    wantedInWords(db, actor, swapId),
  ])
  const missing = (row: (typeof varieties)[number]) =>
    row.sticksWished - row.sticksInStore - row.sticksPromised
  return {
    varieties: [...varieties].sort((a, b) => missing(b) - missing(a) || (a.name < b.name ? -1 : 1)),
    inWords,
  }
}
