import fc from 'fast-check'
import { can, mayActFor } from '#lib/access/policy.ts'
import { recordAttempt } from '#lib/attempts/record-attempt.ts'
import { withdrawAttempt } from '#lib/attempts/withdraw-attempt.ts'
import { placeHold } from '#lib/health/place-hold.ts'
import { releaseHold } from '#lib/health/release-hold.ts'
import { required } from '#lib/kernel/assert.ts'
import { memberAccount } from '#lib/ledger/accounts.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import { recordWalkUp, type WalkUp } from '#lib/swaps/record-walk-up.ts'
import { undoHandOver } from '#lib/swaps/undo-hand-over.ts'
import { undoWalkUp } from '#lib/swaps/undo-walk-up.ts'
import { type Model, type ModelClaim, type ModelLot, pick } from './state.ts'
import type { Step, TrueRefusal } from './step.ts'
import { drawn, fewSticks, held, notEnough, unless } from './wood-steps.ts'

const actorAt = (model: Model, at: number) => required(pick(model.actors, at), 'an actor')

export const hand: Step<{ actor: number; claim: number; sticks: number }, { readonly claimId: string }> = {
  name: 'hand over',
  args: fc.record({ actor: drawn, claim: drawn, sticks: fc.integer({ min: 1, max: 6 }) }),
  plan(model, real, { sticks, ...args }) {
    const actor = actorAt(model, args.actor)
    const claim = pick(model.claims, args.claim)
    if (!claim) return null
    const { lot } = claim.offering
    return {
      label: `${actor.role} hands over ${sticks} of ${claim.sticks} ${claim.status}`,
      refusals: [
        ...unless(can(actor, 'hand-over'), 'not-allowed'),
        ...unless(claim.status === 'promised', 'wrong-state'),
        ...(sticks > claim.sticks ? [{ kind: 'not-enough-sticks', left: claim.sticks }] : []),
        ...held(model, lot),
      ],
      send: (key, isChanged) =>
        handOver(real.db, actor, { key, claimId: claim.id, sticks: sticks + (isChanged ? 1 : 0) }),
      apply() {
        model.move(lot, 'promised', memberAccount(claim.memberId), sticks)
        model.move(lot, 'promised', 'store', claim.sticks - sticks)
        claim.sticks = sticks
        claim.status = 'handed_over'
      },
      core: ({ claimId }) => claimId,
    }
  },
}

function undoRefusals(model: Model, claim: ModelClaim): TrueRefusal[] {
  const { offering, memberId } = claim
  const hasAnother = model.claims.some(
    (other) => other.offering === offering && other.memberId === memberId && other.status === 'promised',
  )
  return [
    ...unless(model.swaps[offering.swap]?.status !== 'finished', 'swap-finished'),
    ...unless(claim.status === 'handed_over', 'wrong-state'),
    ...unless(!hasAnother, 'already-claimed'),
    ...notEnough(model, offering.lot, memberAccount(memberId), claim.sticks),
  ]
}

export const undoHand: Step<{ actor: number; claim: number }, { readonly claimId: string }> = {
  name: 'undo hand-over',
  args: fc.record({ actor: drawn, claim: drawn }),
  plan(model, real, args) {
    const actor = actorAt(model, args.actor)
    const claim = pick(model.claims, args.claim)
    if (!claim) return null
    return {
      label: `${actor.role} takes a hand-over of a ${claim.status} claim back`,
      refusals: [...unless(can(actor, 'hand-over'), 'not-allowed'), ...undoRefusals(model, claim)],
      send: (key, isChanged) =>
        undoHandOver(real.db, actor, {
          key,
          claimId: claim.id,
          reason: isChanged ? 'wrong lot' : 'wrong person',
        }),
      apply() {
        model.move(claim.offering.lot, memberAccount(claim.memberId), 'promised', claim.sticks)
        claim.status = 'promised'
      },
      core: ({ claimId }) => claimId,
    }
  },
}

export const walkUp: Step<{ actor: number; lot: number; sticks: number }, WalkUp> = {
  name: 'walk-up',
  args: fc.record({ actor: drawn, lot: drawn, sticks: fewSticks }),
  plan(model, real, { sticks, ...args }) {
    const actor = actorAt(model, args.actor)
    const lot = pick(model.lots, args.lot)
    if (!lot) return null
    return {
      label: `${actor.role} lets somebody take ${sticks}`,
      refusals: [
        ...unless(can(actor, 'hand-over'), 'not-allowed'),
        ...held(model, lot),
        ...notEnough(model, lot, 'store', sticks),
      ],
      send: (key, isChanged) =>
        recordWalkUp(real.db, actor, { key, lotId: lot.id, sticks: sticks + (isChanged ? 1 : 0) }),
      apply({ moveId, left }) {
        model.move(lot, 'store', 'unnamed', sticks)
        if (left !== model.on(lot, 'store')) throw new Error(`A walk-up said that ${left} are left`)
        const accounts = { kind: 'walk_up', from: 'store', to: 'unnamed' } as const
        model.entries.push({
          id: moveId,
          lot,
          ...accounts,
          sticks,
          recordedBy: actor.memberId,
          isReversed: false,
        })
      },
      core: (value) => value,
    }
  },
}

export const undoTaken: Step<{ actor: number; entry: number }, unknown> = {
  name: 'undo walk-up',
  args: fc.record({ actor: drawn, entry: drawn }),
  plan(model, real, args) {
    const actor = actorAt(model, args.actor)
    const entry = pick(model.entries, args.entry)
    if (!entry) return null
    return {
      label: `${actor.role} takes a ${entry.kind} back`,
      refusals: [
        ...unless(can(actor, 'hand-over'), 'not-allowed'),
        ...unless(entry.kind === 'walk_up', 'not-found'),
        ...unless(!entry.isReversed, 'already-reversed'),
      ],
      send: (key, isChanged) =>
        undoWalkUp(real.db, actor, { key, moveId: entry.id, reason: isChanged ? 'came back' : 'miscounted' }),
      apply() {
        entry.isReversed = true
        model.move(entry.lot, 'unnamed', 'store', entry.sticks)
      },
      core: (value) => value,
    }
  },
}

interface GraftArgs {
  readonly actor: number
  readonly grower: number
  readonly lot: number
  readonly pieces: number
  readonly sticks: number | null
}

/** Where a grower's wood comes from: what they received, else the store when it is theirs to take. */
function woodFor(model: Model, lot: ModelLot, growerId: string, isHelper: boolean) {
  const received = model.on(lot, memberAccount(growerId))
  if (received > 0) return { account: memberAccount(growerId), there: received, refusals: [] }
  const isOwn = model.limbs[lot.limb]?.keeperId === growerId || lot.cutterId === growerId
  const there = model.on(lot, 'store')
  const mayTake = there > 0 && (isOwn || isHelper)
  return { account: 'store', there, refusals: mayTake ? held(model, lot) : [{ kind: 'not-received' }] }
}

export const graft: Step<GraftArgs, { readonly attemptId: string }> = {
  name: 'graft',
  args: fc.record({
    actor: drawn,
    grower: drawn,
    lot: drawn,
    pieces: fc.integer({ min: 1, max: 5 }),
    sticks: fc.option(fc.integer({ min: 1, max: 4 })),
  }),
  plan(model, real, { pieces, ...args }) {
    const actor = actorAt(model, args.actor)
    const { memberId: growerId } = args.grower % 2 === 0 ? actor : actorAt(model, args.grower)
    const lot = pick(model.lots, args.lot)
    if (!lot) return null
    const wood = woodFor(model, lot, growerId, can(actor, 'offer-any-lot'))
    const sticks = args.sticks ?? Math.min(wood.there, pieces)
    return {
      label: `${actor.role} records ${pieces} grafts with ${sticks} sticks of ${wood.account.slice(0, 6)}`,
      refusals: [
        ...unless(mayActFor(actor, growerId), 'not-allowed'),
        ...wood.refusals,
        ...(wood.there > 0 ? notEnough(model, lot, wood.account, sticks) : []),
      ],
      send: (key, isChanged) =>
        recordAttempt(real.db, actor, {
          key,
          growerId,
          source: 'lot',
          lotId: lot.id,
          method: 'whip-and-tongue',
          madeOn: real.today,
          pieces: pieces + (isChanged ? 1 : 0),
          skill: 'not_said',
          ...(args.sticks === null ? {} : { sticksUsed: args.sticks }),
        }),
      apply({ attemptId: id }) {
        model.move(lot, wood.account, 'used', sticks)
        const people = { growerId, recordedBy: actor.memberId }
        model.attempts.push({ id, lot, account: wood.account, sticks, ...people, isWithdrawn: false })
      },
      core: (value) => value,
    }
  },
}

export const undoGraft: Step<{ actor: number; attempt: number }, { readonly sticksBack: number }> = {
  name: 'withdraw graft',
  args: fc.record({ actor: drawn, attempt: drawn }),
  plan(model, real, args) {
    const actor = actorAt(model, args.actor)
    const attempt = pick(model.attempts, args.attempt)
    if (!attempt) return null
    const isTheirs = mayActFor(actor, attempt.growerId) || attempt.recordedBy === actor.memberId
    return {
      label: `${actor.role} withdraws grafts`,
      refusals: [...unless(isTheirs, 'not-allowed'), ...unless(!attempt.isWithdrawn, 'withdrawn')],
      send: (key, isChanged) =>
        withdrawAttempt(real.db, actor, {
          key,
          attemptId: attempt.id,
          reason: isChanged ? 'a mistake' : 'entered twice',
        }),
      apply({ sticksBack }) {
        if (sticksBack !== attempt.sticks)
          throw new Error(`${sticksBack} sticks came back of ${attempt.sticks}`)
        attempt.isWithdrawn = true
        model.move(attempt.lot, 'used', attempt.account, attempt.sticks)
      },
      core: (value) => value,
    }
  },
}

export const hold: Step<{ actor: number; lot: number | null; limb: number }, { readonly holdId: string }> = {
  name: 'hold',
  args: fc.record({ actor: drawn, lot: fc.option(drawn, { freq: 3 }), limb: fc.nat(2) }),
  plan(model, real, args) {
    const actor = actorAt(model, args.actor)
    const lot = args.lot === null ? null : (pick(model.lots, args.lot) ?? null)
    const limb = lot ? null : args.limb
    const isOn = model.holds.some((other) => other.isOpen && (lot ? other.lot === lot : other.limb === limb))
    const target = lot ? { lotId: lot.id } : { limbId: required(model.limbs[args.limb], 'a limb').id }
    return {
      label: `${actor.role} holds ${lot ? 'a lot' : `limb ${args.limb}`}`,
      refusals: [...unless(can(actor, 'place-holds'), 'not-allowed'), ...unless(!isOn, 'held-already')],
      send: (key, isChanged) =>
        placeHold(real.db, actor, { key, ...target, reason: isChanged ? 'fire blight' : 'canker' }),
      apply({ holdId: id }) {
        model.holds.push({ id, lot, limb, isOpen: true })
      },
      core: (value) => value,
    }
  },
}

export const release: Step<{ actor: number; hold: number }, unknown> = {
  name: 'release',
  args: fc.record({ actor: drawn, hold: drawn }),
  plan(model, real, args) {
    const actor = actorAt(model, args.actor)
    const placed = pick(model.holds, args.hold)
    if (!placed) return null
    return {
      label: `${actor.role} releases a hold`,
      refusals: [
        ...unless(can(actor, 'place-holds'), 'not-allowed'),
        ...unless(placed.isOpen, 'released-already'),
      ],
      send: () => releaseHold(real.db, actor, { holdId: placed.id, reason: 'looked at: healthy' }),
      apply() {
        placed.isOpen = false
      },
    }
  },
}
