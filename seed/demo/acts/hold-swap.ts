import { finishSwap } from '#lib/swaps/finish-swap.ts'
import { giveBackClaim } from '#lib/swaps/give-back-claim.ts'
import { handOver } from '#lib/swaps/hand-over.ts'
import { GiveBackClaimInput, HandOverInput, RecordWalkUpInput, UndoHandOverInput } from '#lib/swaps/input.ts'
import { recordWalkUp } from '#lib/swaps/record-walk-up.ts'
import { undoHandOver } from '#lib/swaps/undo-hand-over.ts'
import type { StandingClaim } from '#seed/demo/acts/claim-wood.ts'
import type { DemoSwap } from '#seed/demo/acts/offer-wood.ts'
import {
  mustWork,
  personOf,
  type Received,
  type Simulation,
  severalAtOnce,
  type World,
} from '#seed/demo/simulation.ts'

type Fate = 'all' | 'fewer' | 'no-show' | 'not-fetched'

interface AtTheDoor {
  readonly claim: StandingClaim
  readonly fate: Fate
  /** Minutes after one o'clock. */
  readonly minute: number
  readonly helper: string
}

const helpers = ['priya', 'joss', 'samir', 'greta'] as const

/** What becomes of each claim on the day. Who does not come, comes for none of their wood. */
function planDoor(sim: Simulation, swap: DemoSwap, claims: readonly StandingClaim[]): readonly AtTheDoor[] {
  const random = sim.random(`door ${swap.season.heldOn}`)
  const absent = new Map<string, Fate>()
  return claims.map((claim) => {
    const { key } = claim.person
    const isSure = key === 'wren' || key === 'nell' || claim.person.email === null
    if (!absent.has(key)) {
      const comes = isSure || random.chance(0.92)
      absent.set(key, comes ? 'all' : random.chance(0.5) ? 'no-show' : 'not-fetched')
    }
    const comes = absent.get(key) === 'all'
    const isFewer = comes && claim.sticks > 1 && random.chance(0.1)
    return {
      claim,
      fate: isFewer ? 'fewer' : (absent.get(key) ?? 'all'),
      minute: random.integer(0, 170),
      helper: random.pick(helpers),
    }
  })
}

async function serve(
  sim: Simulation,
  world: World,
  swap: DemoSwap,
  visit: AtTheDoor,
): Promise<Received | null> {
  const { claim, fate, minute } = visit
  const on = swap.season.heldOn
  const { actor } = personOf(world, visit.helper)
  const db = sim.at(on, 13 + Math.floor(minute / 60), minute % 60)
  const { claimId, offer } = claim
  if (fate === 'not-fetched') return null
  if (fate === 'no-show') {
    const input = GiveBackClaimInput.parse({ key: sim.db.newId(), claimId, reason: 'Did not come' })
    mustWork(await giveBackClaim(db, actor, input), 'give back what a no-show had claimed')
    offer.left += claim.shares
    offer.lot.inStore += claim.sticks
    return null
  }
  const sticks = fate === 'fewer' ? claim.sticks - 1 : claim.sticks
  const input = HandOverInput.parse({ key: sim.db.newId(), claimId, sticks })
  mustWork(await handOver(db, actor, input), `hand over to ${claim.person.name}`)
  offer.lot.inStore += claim.sticks - sticks
  return { lot: offer.lot, person: claim.person, sticks, on }
}

/** One bag went to the wrong person: taken back, and handed over again. */
async function correctOneHandOver(sim: Simulation, world: World, swap: DemoSwap, door: readonly AtTheDoor[]) {
  const mistaken = door.find(({ fate, claim }) => fate === 'all' && claim.person.key !== 'wren')
  if (!mistaken) return
  const { claimId, sticks } = mistaken.claim
  const { actor } = personOf(world, 'joss')
  const on = swap.season.heldOn
  const undo = UndoHandOverInput.parse({ key: sim.db.newId(), claimId, reason: 'Bag of the next table' })
  mustWork(await undoHandOver(sim.at(on, 16, 5), actor, undo), 'take a hand-over back')
  const again = HandOverInput.parse({ key: sim.db.newId(), claimId, sticks })
  mustWork(await handOver(sim.at(on, 16, 10), actor, again), 'hand over again')
}

/** After the members come the visitors: a stick or two of what is left, without a name. */
async function letVisitorsTake(sim: Simulation, world: World, swap: DemoSwap): Promise<void> {
  const random = sim.random(`visitors ${swap.season.heldOn}`)
  const taken = random
    .shuffle(swap.offers.filter(({ lot }) => lot.inStore > 0))
    .slice(0, 9)
    .map((offer) => ({ offer, sticks: Math.min(offer.lot.inStore, random.integer(1, 2)) }))
  const { actor } = personOf(world, 'samir')
  await severalAtOnce(taken, async ({ offer, sticks }) => {
    const input = RecordWalkUpInput.parse({ key: sim.db.newId(), offeringId: offer.offeringId, sticks })
    mustWork(
      await recordWalkUp(sim.at(swap.season.heldOn, 16, 30), actor, input),
      'let a visitor take sticks',
    )
    offer.lot.inStore -= sticks
  })
}

/** The day itself: hand-overs, people who do not come, visitors, and the end. Returns what went home with whom. */
export async function holdSwap(
  sim: Simulation,
  world: World,
  swap: DemoSwap,
  claims: readonly StandingClaim[],
): Promise<readonly Received[]> {
  const door = planDoor(sim, swap, claims)
  const served = await severalAtOnce(door, (visit) => serve(sim, world, swap, visit))
  await correctOneHandOver(sim, world, swap, door)
  await letVisitorsTake(sim, world, swap)
  const organiser = personOf(world, 'nell').actor
  const end = { swapId: swap.swapId, giveBackRest: true }
  mustWork(await finishSwap(sim.at(swap.season.heldOn, 18, 0), organiser, end), 'finish the swap')
  for (const { claim, fate } of door) if (fate === 'not-fetched') claim.offer.lot.inStore += claim.sticks
  return served.filter((received) => received !== null)
}
