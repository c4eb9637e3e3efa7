import { addDays, type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import type { Random } from '#lib/kernel/seeded-random.ts'
import { claimOffering } from '#lib/swaps/claim-offering.ts'
import { giveBackClaim } from '#lib/swaps/give-back-claim.ts'
import { ClaimOfferingInput, GiveBackClaimInput } from '#lib/swaps/input.ts'
import { caps, type DemoSwap, type OnOffer } from '#seed/demo/acts/offer-wood.ts'
import { earlier, later } from '#seed/demo/calendar.ts'
import { rootstocks } from '#seed/demo/data/trees.ts'
import {
  mustWork,
  type Person,
  pickByWeight,
  type Simulation,
  scribeOf,
  type World,
} from '#seed/demo/simulation.ts'

export interface StandingClaim {
  readonly claimId: string
  readonly offer: OnOffer
  readonly person: Person
  readonly shares: number
  readonly sticks: number
  readonly on: CivilDate
}

interface Wish {
  readonly person: Person
  readonly on: CivilDate
  readonly hour: number
  readonly minute: number
}

const sameMoment = (a: Wish, b: Wish) =>
  daysBetween(b.on, a.on) || a.hour - b.hour || a.minute - b.minute || (a.person.key < b.person.key ? -1 : 1)

/** Who sits down to claim, and when: most in the first evenings, each as often as they want something. */
function planWishes(
  random: Random,
  people: readonly Person[],
  swap: DemoSwap,
  last: CivilDate,
  share: number,
): readonly Wish[] {
  const { claimsOpenOn } = swap.season
  const laid = swap.offers.reduce((first, { offeredOn }) => earlier(first, offeredOn), last)
  const from = later(claimsOpenOn, laid)
  const days = Math.max(0, daysBetween(from, last))
  return people
    .filter((person) => person.joinedOn < claimsOpenOn)
    .flatMap((person) => {
      const sitsDown = random.chance(share)
      if (!sitsDown && person.key !== 'wren') return []
      return Array.from({ length: random.integer(2, 6) }, () => ({
        person,
        on: addDays(from, Math.floor(days * random.next() ** 1.8 + 0.5)),
        hour: random.integer(19, 21),
        minute: random.integer(0, 59),
      }))
    })
    .sort(sameMoment)
}

const purposes = ['on the old tree', 'for my sister’s garden', 'not decided', 'to practise on'] as const

function purposeOf(random: Random, offer: OnOffer): string {
  const stocks = rootstocks[offer.lot.limb.crop]
  if (stocks.length === 0) return random.chance(0.5) ? 'to root in pots' : 'straight into the ground'
  return random.chance(0.6) ? `${random.pick(stocks)}, bench` : random.pick(purposes)
}

/** What a person would still take: not twice the same lot, within the limits, and not before it was on the table. */
function pickOffer(
  random: Random,
  wish: Wish,
  swap: DemoSwap,
  claims: readonly StandingClaim[],
): { offer: OnOffer; shares: number } | null {
  const theirs = claims.filter(({ person }) => person.key === wish.person.key)
  const held = theirs.reduce((sum, { shares }) => sum + shares, 0)
  const room = (offer: OnOffer) => {
    const ofVariety = theirs
      .filter((claim) => claim.offer.variety === offer.variety)
      .reduce((sum, { shares }) => sum + shares, 0)
    return Math.min(offer.left, caps.perMember - held, caps.perVariety - ofVariety)
  }
  const open = swap.offers.filter(
    (offer) =>
      offer.offeredOn <= wish.on &&
      room(offer) > 0 &&
      !theirs.some((claim) => claim.offer === offer) &&
      offer.lot.limb.keeper.key !== wish.person.key,
  )
  if (open.length === 0) return null
  const offer = pickByWeight(
    random,
    open.map((one) => [one, [1, 3, 8, 20][one.wanted] ?? 1] as const),
  )
  return { offer, shares: Math.min(room(offer), random.chance(0.35) ? 2 : 1) }
}

async function claim(
  sim: Simulation,
  world: World,
  wish: Wish,
  wanted: { offer: OnOffer; shares: number },
  purpose: string,
): Promise<StandingClaim> {
  const { person } = wish
  const input = ClaimOfferingInput.parse({
    key: sim.db.newId(),
    offeringId: wanted.offer.offeringId,
    memberId: person.memberId,
    shares: wanted.shares,
    purpose,
  })
  const { claimId, sticks } = mustWork(
    await claimOffering(sim.at(wish.on, wish.hour, wish.minute), scribeOf(world, person), input),
    `claim for ${person.name}`,
  )
  wanted.offer.left -= wanted.shares
  wanted.offer.lot.inStore -= sticks
  return { claimId, person, sticks, on: wish.on, ...wanted }
}

/** Second thoughts: some claims are given back before the list closes, and nobody asks why. */
async function giveSomeBack(
  sim: Simulation,
  world: World,
  claims: readonly StandingClaim[],
  on: CivilDate,
  random: Random,
): Promise<readonly StandingClaim[]> {
  const kept: StandingClaim[] = []
  for (const standing of claims) {
    const givesBack = random.chance(0.07) && standing.person.key !== 'wren'
    if (!givesBack) {
      kept.push(standing)
      continue
    }
    const input = GiveBackClaimInput.parse({
      key: sim.db.newId(),
      claimId: standing.claimId,
      reason: random.chance(0.5) ? 'No stock for it after all' : undefined,
    })
    mustWork(
      await giveBackClaim(sim.at(on, 22), scribeOf(world, standing.person), input),
      'give a claim back',
    )
    standing.offer.left += standing.shares
    standing.offer.lot.inStore += standing.sticks
  }
  return kept
}

interface Rush {
  /** The last evening of the claims. */
  readonly last: CivilDate
  /** How many of the members claim at all. */
  readonly share: number
  /** The part of the table at which the rush ends, if there is so much wanted. */
  readonly upTo: number
}

const sharesOf = (claims: readonly StandingClaim[]) => claims.reduce((sum, { shares }) => sum + shares, 0)

/**
 * Members claim, one after the other as in life: who comes first gets the stick. Chance decides beforehand who
 * wants what when, so that nothing is ever refused here.
 */
export async function claimWood(
  sim: Simulation,
  world: World,
  swap: DemoSwap,
  { last, share, upTo }: Rush,
): Promise<readonly StandingClaim[]> {
  const random = sim.random(`claims ${swap.season.heldOn}`)
  const table = swap.offers.reduce((sum, { left }) => sum + left, 0)
  const claims: StandingClaim[] = []
  for (const wish of planWishes(random, world.people, swap, last, share)) {
    const wanted = pickOffer(random, wish, swap, claims)
    // The person shown at sign-in has claims, and keeps room for more.
    const isEnough =
      wish.person.key === 'wren'
        ? claims.filter(({ person }) => person.key === 'wren').length >= 3
        : sharesOf(claims) >= upTo * table
    if (wanted === null || isEnough) continue
    claims.push(await claim(sim, world, wish, wanted, purposeOf(random, wanted.offer)))
  }
  return giveSomeBack(sim, world, claims, last, random)
}
