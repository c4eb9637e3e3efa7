import fc from 'fast-check'
import { can, mayActFor } from '#lib/access/policy.ts'
import { required } from '#lib/kernel/assert.ts'
import { ok, type Result } from '#lib/kernel/result.ts'
import { memberAccount, type StickAccount } from '#lib/ledger/accounts.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import { type LedgerRefusal, ledgerRefusalOf } from '#lib/ledger/refusals.ts'
import { transact } from '#lib/platform/database/transact.ts'
import { correctMove } from '#lib/wood/correct-move.ts'
import { type LoggedSession, logCuttingSession } from '#lib/wood/log-cutting-session.ts'
import { moveLot } from '#lib/wood/move-lot.ts'
import { recordLoss } from '#lib/wood/record-loss.ts'
import { type Model, type ModelEntry, type ModelLot, mayTend, pick } from './state.ts'
import type { Step, TrueRefusal } from './step.ts'
import type { Real } from './world.ts'

export const drawn = fc.nat(999)
export const fewSticks = fc.integer({ min: 1, max: 9 })

/** The latest entry of a kind on a lot: commands do not all say its key. */
async function latestEntry({ db, groupId }: Real, lotId: string, kind: ModelEntry['kind']): Promise<string> {
  const { id } = await db.prisma.move.findFirstOrThrow({
    where: { groupId, lotId, kind },
    orderBy: { seq: 'desc' },
    select: { id: true },
  })
  return id
}

export const notEnough = (model: Model, lot: ModelLot, account: string, wanted: number): TrueRefusal[] =>
  model.on(lot, account) < wanted
    ? [{ kind: 'not-enough-sticks', left: model.on(lot, account), account }]
    : []

export const held = (model: Model, lot: ModelLot): TrueRefusal[] =>
  model.isHeld(lot) ? [{ kind: 'held' }] : []

export const unless = (isFine: boolean, kind: string): TrueRefusal[] => (isFine ? [] : [{ kind }])

export const cut: Step<{ actor: number; cutter: number; limb: number; sticks: number }, LoggedSession> = {
  name: 'cut',
  args: fc.record({ actor: drawn, cutter: drawn, limb: drawn, sticks: fc.integer({ min: 1, max: 14 }) }),
  plan(model, real, args) {
    const actor = required(pick(model.actors, args.actor), 'an actor')
    const { memberId: cutterId } =
      args.cutter % 2 === 0 ? actor : required(pick(model.actors, args.cutter), 'a cutter')
    const at = args.limb % model.limbs.length
    const limb = required(model.limbs[at], 'a limb')
    const isHeld = model.holds.some((hold) => hold.isOpen && hold.limb === at)
    return {
      label: `${actor.role} cuts ${args.sticks} sticks of limb ${at}`,
      refusals: [...unless(mayActFor(actor, cutterId), 'not-allowed'), ...unless(!isHeld, 'limb-held')],
      send: (key, isChanged) =>
        logCuttingSession(real.db, actor, {
          key,
          cutterId,
          cutOn: real.today,
          toolCare: 'wiped_once',
          lots: [
            {
              limbId: limb.id,
              sticks: args.sticks + (isChanged ? 1 : 0),
              kind: 'scion_wood',
              diameter: 'pencil',
              budStage: 0,
              packaging: 'sealed_damp',
              storeId: required(model.stores[0], 'a store'),
            },
          ],
        }),
      async apply({ lots: [made] }) {
        const { lotId: id } = required(made, 'the lot that was cut')
        const lot: ModelLot = { id, limb: at, cutterId, store: 0, sticks: new Map() }
        model.lots.push(lot)
        model.move(lot, 'cut', 'store', args.sticks)
        model.entries.push({
          id: await latestEntry(real, id, 'cut'),
          lot,
          kind: 'cut',
          from: 'cut',
          to: 'store',
          sticks: args.sticks,
          recordedBy: actor.memberId,
          isReversed: false,
        })
      },
      core: (value) => value,
    }
  },
}

export const changeStore: Step<{ actor: number; lot: number; store: number }, unknown> = {
  name: 'change store',
  args: fc.record({ actor: drawn, lot: drawn, store: fc.nat(1) }),
  plan(model, real, args) {
    const actor = required(pick(model.actors, args.actor), 'an actor')
    const lot = pick(model.lots, args.lot)
    if (!lot) return null
    const storeAt = (index: number) => required(model.stores[index], 'a store')
    return {
      label: `${actor.role} moves a lot to store ${args.store}`,
      refusals: [
        ...unless(mayTend(actor, lot), 'not-your-wood'),
        ...unless(lot.store !== args.store, 'already-there'),
      ],
      send: (key, isChanged) =>
        moveLot(real.db, actor, {
          key,
          lotId: lot.id,
          storeId: storeAt(isChanged ? 1 - args.store : args.store),
          onDay: real.today,
        }),
      apply() {
        lot.store = args.store
      },
      core: (value) => value,
    }
  },
}

type Fate = 'destroyed' | 'lost'

export const lose: Step<{ actor: number; lot: number; sticks: number; fate: Fate }, unknown> = {
  name: 'write off',
  args: fc.record({
    actor: drawn,
    lot: drawn,
    sticks: fewSticks,
    fate: fc.constantFrom<Fate>('destroyed', 'lost'),
  }),
  plan(model, real, { fate, sticks, ...args }) {
    const actor = required(pick(model.actors, args.actor), 'an actor')
    const lot = pick(model.lots, args.lot)
    if (!lot) return null
    const kind = fate === 'lost' ? 'lose' : 'destroy'
    return {
      label: `${actor.role} writes off ${sticks} as ${fate}`,
      refusals: [...unless(mayTend(actor, lot), 'not-your-wood'), ...notEnough(model, lot, 'store', sticks)],
      send: (key, isChanged) =>
        recordLoss(real.db, actor, {
          key,
          lotId: lot.id,
          sticks: sticks + (isChanged ? 1 : 0),
          fate,
          reason: 'mould',
        }),
      async apply() {
        model.move(lot, 'store', fate, sticks)
        model.entries.push({
          id: await latestEntry(real, lot.id, kind),
          lot,
          kind,
          from: 'store',
          to: fate,
          sticks,
          recordedBy: actor.memberId,
          isReversed: false,
        })
      },
      core: (value) => value,
    }
  },
}

/** Why an entry may not be replaced by one of another number: what fills the store is written first. */
function correctionRefusals(model: Model, entry: ModelEntry, again: number | null): TrueRefusal[] {
  const { lot } = entry
  if (entry.isReversed) return [{ kind: 'already-reversed' }]
  if (entry.to === 'store') {
    const filled = model.on(lot, 'store') + (again ?? 0)
    return filled < entry.sticks ? [{ kind: 'not-enough-sticks', left: filled, account: 'store' }] : []
  }
  if (model.on(lot, entry.to) < entry.sticks) return notEnough(model, lot, entry.to, entry.sticks)
  if (again === null) return []
  const free = model.on(lot, 'store') + entry.sticks
  return [
    ...(entry.kind === 'walk_up' ? held(model, lot) : []),
    ...(free < again ? [{ kind: 'not-enough-sticks', left: free, account: 'store' }] : []),
  ]
}

export const correct: Step<{ actor: number; entry: number; again: number | null }, unknown> = {
  name: 'correct',
  args: fc.record({ actor: drawn, entry: drawn, again: fc.option(fewSticks) }),
  plan(model, real, { again, ...args }) {
    const actor = required(pick(model.actors, args.actor), 'an actor')
    const entry = pick(model.entries, args.entry)
    if (!entry) return null
    const mayCorrect = can(actor, 'keep-stores') || entry.recordedBy === actor.memberId
    return {
      label: `${actor.role} corrects a ${entry.kind} of ${entry.sticks} to ${again ?? 'nothing'}`,
      refusals: [...unless(mayCorrect, 'not-your-wood'), ...correctionRefusals(model, entry, again)],
      send: (key, isChanged) =>
        correctMove(real.db, actor, {
          key,
          moveId: entry.id,
          reason: isChanged ? 'counted once more' : 'miscounted',
          ...(again === null ? {} : { sticks: again }),
        }),
      async apply() {
        entry.isReversed = true
        model.move(entry.lot, entry.to, entry.from, entry.sticks)
        if (again === null) return
        model.move(entry.lot, entry.from, entry.to, again)
        const id = await latestEntry(real, entry.lot.id, entry.kind)
        model.entries.push({ ...entry, id, sticks: again, recordedBy: actor.memberId, isReversed: false })
      },
      core: (value) => value,
    }
  },
}

type Leg = 'post' | 'arrive' | 'bring_back'

/** Parcels have no page yet, so these go to the ledger's own function. */
export const parcel: Step<{ leg: Leg; lot: number; member: number; sticks: number }, number> = {
  name: 'parcel',
  args: fc.record({
    leg: fc.constantFrom<Leg>('post', 'arrive', 'bring_back'),
    lot: drawn,
    member: drawn,
    sticks: fewSticks,
  }),
  plan(model, real, { leg, sticks, ...args }) {
    const lot = pick(model.lots, args.lot)
    if (!lot) return null
    const { memberId } = required(pick(model.actors, args.member), 'a member')
    const [from, to] = legs(leg, memberId)
    return {
      label: `${sticks} sticks ${leg}`,
      refusals: [...(leg === 'post' ? held(model, lot) : []), ...notEnough(model, lot, from, sticks)],
      send: (key): Promise<Result<number, LedgerRefusal>> =>
        transact(
          real.db,
          async (tx) =>
            ok(
              await moveSticks(tx, {
                groupId: real.groupId,
                id: key,
                lotId: lot.id,
                kind: leg,
                from,
                to,
                sticks,
                happenedAt: real.db.now(),
                recordedBy: memberId,
              }),
            ),
          ledgerRefusalOf,
        ),
      apply: () => model.move(lot, from, to, sticks),
    }
  },
}

function legs(leg: Leg, memberId: string): readonly [StickAccount, StickAccount] {
  if (leg === 'post') return ['store', 'parcel']
  return leg === 'arrive' ? ['parcel', memberAccount(memberId)] : ['parcel', 'store']
}
