import fc from 'fast-check'
import type { Actor } from '#lib/access/actor.ts'
import { can, mayActFor } from '#lib/access/policy.ts'
import { required } from '#lib/kernel/assert.ts'
import { claimOffering, type MadeClaim } from '#lib/swaps/claim-offering.ts'
import { finishSwap } from '#lib/swaps/finish-swap.ts'
import { giveBackClaim } from '#lib/swaps/give-back-claim.ts'
import { type OfferedLots, offerLots } from '#lib/swaps/offer-lots.ts'
import { openSwap } from '#lib/swaps/open-swap.ts'
import { withdrawOffering } from '#lib/swaps/withdraw-offering.ts'
import { type Model, type ModelOffering, pick } from './state.ts'
import type { Step, TrueRefusal } from './step.ts'
import { drawn, held, unless } from './wood-steps.ts'

const actorAt = (model: Model, at: number): Actor => required(pick(model.actors, at), 'an actor')
const swapOf = (model: Model, offering: ModelOffering) => required(model.swaps[offering.swap], 'a swap')
const standingOf = (model: Model, offering: ModelOffering) =>
  model.claims.filter((claim) => claim.offering === offering && claim.status === 'promised')

interface OfferArgs {
  readonly actor: number
  readonly swap: number
  readonly lot: number
  readonly sticksPerShare: number
  readonly shares: number
}

export const offer: Step<OfferArgs, OfferedLots> = {
  name: 'offer',
  args: fc.record({
    actor: drawn,
    swap: fc.nat(1),
    lot: drawn,
    sticksPerShare: fc.integer({ min: 1, max: 3 }),
    shares: fc.integer({ min: 1, max: 4 }),
  }),
  plan(model, real, { sticksPerShare, shares, ...args }) {
    const actor = actorAt(model, args.actor)
    const lot = pick(model.lots, args.lot)
    if (!lot) return null
    const swap = required(model.swaps[args.swap], 'a swap')
    const earlier = model.offerings.find((offering) => offering.lot === lot && offering.swap === args.swap)
    const unfit = [
      ...unless(!earlier || earlier.isWithdrawn, 'already-offered'),
      ...held(model, lot),
      ...unless(sticksPerShare * shares <= model.on(lot, 'store'), 'not-enough-sticks'),
    ].map(({ kind }) => kind)
    const namesOne = (lots: unknown) =>
      (lots as readonly { refusal: { kind: string } }[]).every(({ refusal }) => unfit.includes(refusal.kind))
    return {
      label: `${actor.role} offers ${shares} shares of ${sticksPerShare}`,
      refusals: [
        ...unless(can(actor, 'offer-any-lot'), 'not-allowed'),
        ...unless(swap.status !== 'finished', 'swap-finished'),
        ...(unfit.length > 0 ? [{ kind: 'lots-unfit', lots: namesOne }] : []),
      ],
      send: (key, isChanged) =>
        offerLots(real.db, actor, {
          key,
          swapId: swap.id,
          offers: [{ lotId: lot.id, sticksPerShare, shares: shares + (isChanged ? 1 : 0) }],
        }),
      apply({ offeringIds: [id] }) {
        if (earlier)
          Object.assign(earlier, { sticksPerShare, shares: earlier.claimed + shares, isWithdrawn: false })
        else {
          const made = { id: required(id, 'an offering'), swap: args.swap, lot, sticksPerShare, shares }
          model.offerings.push({ ...made, claimed: 0, isWithdrawn: false })
        }
      },
      core: (value) => value,
    }
  },
}

export const withdraw: Step<{ actor: number; offering: number }, unknown> = {
  name: 'withdraw',
  args: fc.record({ actor: drawn, offering: drawn }),
  plan(model, real, args) {
    const actor = actorAt(model, args.actor)
    const offering = pick(model.offerings, args.offering)
    if (!offering) return null
    const standing = standingOf(model, offering)
    const sticks = standing.reduce((sum, claim) => sum + claim.sticks, 0)
    return {
      label: `${actor.role} withdraws an offering`,
      refusals: [
        ...unless(can(actor, 'offer-any-lot'), 'not-allowed'),
        ...unless(!offering.isWithdrawn, 'not-found'),
        ...(standing.length > 0 ? [{ kind: 'claims-standing', claims: standing.length, sticks }] : []),
      ],
      send: () => withdrawOffering(real.db, actor, { offeringId: offering.id }),
      apply() {
        offering.isWithdrawn = true
      },
    }
  },
}

function limitRefusals(
  model: Model,
  offering: ModelOffering,
  memberId: string,
  shares: number,
): TrueRefusal[] {
  const swap = swapOf(model, offering)
  const inSwap = model.taken(offering.swap, memberId, null)
  const ofVariety = model.taken(offering.swap, memberId, model.varietyOf(offering.lot))
  const free = Math.floor(model.on(offering.lot, 'store') / offering.sticksPerShare)
  const offered = offering.shares - offering.claimed
  return [
    ...(offered < shares ? [{ kind: 'not-enough-shares', left: offered }] : []),
    ...(free < shares ? [{ kind: 'not-enough-shares', left: free }] : []),
    ...(inSwap + shares > swap.capPerMember
      ? [{ kind: 'cap-per-member', cap: swap.capPerMember, held: inSwap }]
      : []),
    ...(ofVariety + shares > swap.capPerVariety
      ? [{ kind: 'cap-per-variety', cap: swap.capPerVariety, held: ofVariety }]
      : []),
  ]
}

export const claim: Step<{ actor: number; member: number; offering: number; shares: number }, MadeClaim> = {
  name: 'claim',
  args: fc.record({ actor: drawn, member: drawn, offering: drawn, shares: fc.integer({ min: 1, max: 4 }) }),
  plan(model, real, { shares, ...args }) {
    const actor = actorAt(model, args.actor)
    const { memberId } = args.member % 3 === 0 ? actorAt(model, args.member) : actor
    const offering = pick(model.offerings, args.offering)
    if (!offering) return null
    const hasOne = standingOf(model, offering).some((standing) => standing.memberId === memberId)
    return {
      label: `${actor.role} claims ${shares}${memberId === actor.memberId ? '' : ' for somebody'}`,
      refusals: [
        ...unless(mayActFor(actor, memberId), 'not-allowed'),
        ...unless(!offering.isWithdrawn, 'not-found'),
        ...unless(swapOf(model, offering).status === 'open', 'claims-not-open'),
        ...held(model, offering.lot),
        ...unless(!hasOne, 'already-claimed'),
        ...limitRefusals(model, offering, memberId, shares),
      ],
      send: (key, isChanged) =>
        claimOffering(real.db, actor, {
          key,
          offeringId: offering.id,
          memberId,
          shares: shares + (isChanged ? 1 : 0),
        }),
      apply({ claimId: id, sticks, sharesLeft, replayed }) {
        const expected = shares * offering.sticksPerShare
        offering.claimed += shares
        if (replayed || sticks !== expected || sharesLeft !== offering.shares - offering.claimed) {
          throw new Error(
            `A claim of ${expected} sticks was answered with ${JSON.stringify({ sticks, sharesLeft, replayed })}`,
          )
        }
        model.claims.push({ id, offering, memberId, shares, sticks, status: 'promised' })
        model.move(offering.lot, 'store', 'promised', sticks)
      },
      core: ({ claimId }) => claimId,
    }
  },
}

export const giveBack: Step<{ actor: number; claim: number }, { readonly claimId: string }> = {
  name: 'give back',
  args: fc.record({ actor: drawn, claim: drawn }),
  plan(model, real, args) {
    const actor = actorAt(model, args.actor)
    const claimed = pick(model.claims, args.claim)
    if (!claimed) return null
    return {
      label: `${actor.role} gives a ${claimed.status} claim back`,
      refusals: [
        ...unless(mayActFor(actor, claimed.memberId), 'not-found'),
        ...unless(claimed.status === 'promised', 'wrong-state'),
      ],
      send: (key, isChanged) =>
        giveBackClaim(real.db, actor, {
          key,
          claimId: claimed.id,
          ...(isChanged ? { reason: 'too many' } : {}),
        }),
      apply: () => model.settle(claimed),
      core: ({ claimId }) => claimId,
    }
  },
}

export const finish: Step<{ actor: number; swap: number; giveBackRest: boolean }, unknown> = {
  name: 'finish',
  args: fc.record({ actor: drawn, swap: fc.nat(1), giveBackRest: fc.boolean() }),
  plan(model, real, { giveBackRest, ...args }) {
    const actor = actorAt(model, args.actor)
    const swap = required(model.swaps[args.swap], 'a swap')
    const standing = model.claims.filter(
      ({ status, offering }) => status === 'promised' && offering.swap === args.swap,
    )
    return {
      label: `${actor.role} finishes swap ${args.swap}`,
      refusals: [
        ...unless(can(actor, 'run-swaps'), 'not-allowed'),
        ...unless(swap.status !== 'finished', 'swap-finished'),
        ...(standing.length > 0 && !giveBackRest
          ? [{ kind: 'claims-standing', claims: standing.length }]
          : []),
      ],
      send: () => finishSwap(real.db, actor, { swapId: swap.id, giveBackRest }),
      apply() {
        swap.status = 'finished'
        for (const claimed of standing) model.settle(claimed)
      },
    }
  },
}

export const open: Step<{ actor: number; swap: number }, unknown> = {
  name: 'open',
  args: fc.record({ actor: drawn, swap: fc.nat(1) }),
  plan(model, real, args) {
    const actor = actorAt(model, args.actor)
    const swap = required(model.swaps[args.swap], 'a swap')
    return {
      label: `${actor.role} opens swap ${args.swap}`,
      refusals: [
        ...unless(can(actor, 'run-swaps'), 'not-allowed'),
        ...unless(swap.status !== 'open', 'swap-already-open'),
      ],
      send: () => openSwap(real.db, actor, { swapId: swap.id }),
      apply() {
        swap.status = 'open'
      },
    }
  },
}
