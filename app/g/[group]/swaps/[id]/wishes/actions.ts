'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { addWish } from '#lib/wishes/add-wish.ts'
import { dropWish } from '#lib/wishes/drop-wish.ts'
import { AddWishInput, DropWishInput, MoveWishInput } from '#lib/wishes/input.ts'
import { moveWish } from '#lib/wishes/move-wish.ts'
import type { ListPlace } from '#lib/wishes/open-list.ts'
import { wishesRefusalWords } from '#lib/wishes/refusal-words.ts'

const refusal = wishesRefusalWords

/** Back to the list that was changed. */
const listOf = ({ swapId, memberId }: ListPlace, slug: string, done: string) => ({
  to: `${swapHref(slug, swapId, 'wishes')}?member=${memberId}&done=${done}`,
})

export const addWishAction = memberAction({
  input: AddWishInput,
  command: addWish,
  refusal,
  done: (wish, { slug }) => listOf(wish, slug, 'added'),
})

export const dropWishAction = memberAction({
  input: DropWishInput,
  command: dropWish,
  refusal,
  done: (list, { slug }) => listOf(list, slug, 'dropped'),
})

export const moveWishAction = memberAction({
  input: MoveWishInput,
  command: moveWish,
  refusal,
  done: (list, { slug }) => listOf(list, slug, 'moved'),
})
