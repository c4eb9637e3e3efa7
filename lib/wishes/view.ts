import type { WishPurpose } from '#lib/wishes/input.ts'

/** One wish of a list. */
export interface WishRow {
  readonly wishId: string
  readonly rank: number
  readonly variety: { readonly id: string; readonly name: string; readonly commonName: string } | null
  readonly words: string | null
  /** The crop of a wish in words, when it was said. */
  readonly crop: string | null
  readonly purpose: WishPurpose
  readonly sticks: number
  readonly stock: string | null
  /** What is known of the variety on that stock; null when either is not known. */
  readonly onStock: { readonly words: string; readonly warns: boolean; readonly basis: string | null } | null
}

/** A limb that could give wood. */
export interface GivingLimb {
  readonly limbId: string
  readonly treeCode: string
  readonly mark: string
  readonly keeper: { readonly id: string; readonly name: string }
  /** The open request or promise for it in this swap, if there is one. */
  readonly pledge: {
    readonly pledgeId: string
    readonly status: 'asked' | 'promised'
    readonly sticks: number
  } | null
}

/** What is wished for of one variety, and what the group could give of it. */
export interface WantedVariety {
  readonly varietyId: string
  readonly name: string
  readonly commonName: string
  readonly members: number
  readonly sticksWished: number
  /** Sticks of it in the group's stores now. */
  readonly sticksInStore: number
  readonly sticksPromised: number
  readonly limbs: readonly GivingLimb[]
}

/** A wish in words, counted with the same words of others. */
export interface WantedInWords {
  readonly words: string
  readonly crop: string | null
  readonly members: number
  readonly sticksWished: number
}

export interface CallForWood {
  /** Most wished for beyond what is there, first. */
  readonly varieties: readonly WantedVariety[]
  readonly inWords: readonly WantedInWords[]
}
