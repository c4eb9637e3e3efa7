import { required } from '#lib/kernel/assert.ts'
import { addDays, type CivilDate, utcMidnight } from '#lib/kernel/civil-date.ts'
import type { Random } from '#lib/kernel/seeded-random.ts'
import { createSwap } from '#lib/swaps/create-swap.ts'
import { CreateSwapInput, OfferLotsInput, OpenSwapInput } from '#lib/swaps/input.ts'
import { offerLots } from '#lib/swaps/offer-lots.ts'
import { openSwap } from '#lib/swaps/open-swap.ts'
import { earlier, later, type Season } from '#seed/demo/calendar.ts'
import { pendingVariety } from '#seed/demo/data/varieties.ts'
import { type CutLot, mustWork, personOf, type Simulation, type World } from '#seed/demo/simulation.ts'

/** Shares that one member may hold, over the whole swap and of one variety. */
export const caps = { perMember: 10, perVariety: 2 } as const

export interface OnOffer {
  readonly offeringId: string
  readonly lot: CutLot
  readonly variety: string
  readonly wanted: number
  readonly sticksPerShare: number
  readonly offeredOn: CivilDate
  /** Shares that can still be claimed, as the simulator knows. */
  left: number
}

export interface DemoSwap {
  readonly swapId: string
  readonly season: Season
  readonly offers: readonly OnOffer[]
}

const monthName = new Intl.DateTimeFormat('en-GB', { month: 'long', timeZone: 'UTC' })

function swapName({ kind, heldOn }: Season): string {
  const year = heldOn.slice(0, 4)
  return kind === 'budding'
    ? `Summer budding swap ${year}`
    : `${monthName.format(utcMidnight(heldOn))} swap ${year}`
}

async function planSwap(sim: Simulation, world: World, season: Season): Promise<string> {
  const organiser = personOf(world, 'nell')
  const input = CreateSwapInput.parse({
    key: sim.db.newId(),
    name: swapName(season),
    heldOn: season.heldOn,
    place: 'Marrow Lane hall',
    claimsOpenOn: season.claimsOpenOn,
    claimsOpenTime: '18:00',
    claimsCloseOn: season.claimsCloseOn,
    claimsCloseTime: '18:00',
    capPerMember: caps.perMember,
    capPerVariety: caps.perVariety,
    note:
      season.kind === 'budding'
        ? 'Bring a cool bag. Buds are for the same day or the next.'
        : 'Donors from one o’clock, everybody from half past. Bring tape and a pencil.',
  })
  const { swapId } = mustWork(
    await createSwap(sim.at(season.plannedOn), organiser.actor, input),
    'plan a swap',
  )
  mustWork(
    await openSwap(sim.at(season.claimsOpenOn, 17, 0), organiser.actor, OpenSwapInput.parse({ swapId })),
    'open a swap',
  )
  return swapId
}

interface Offer {
  readonly lot: CutLot
  readonly sticksPerShare: number
  readonly shares: number
}

/** How a lot is shared out: two sticks each when there are enough, and something kept back for its owner. */
function shareOut(random: Random, lot: CutLot): Offer {
  const sticksPerShare = lot.inStore >= 10 && random.chance(0.7) ? 2 : 1
  const given = Math.max(sticksPerShare, Math.round(lot.inStore * (0.6 + 0.25 * random.next())))
  return { lot, sticksPerShare, shares: Math.min(12, Math.floor(given / sticksPerShare)) }
}

/** Which lots go on the table: those with a name and no right on them, the wanted ones and grafts of grafts first. */
function chooseOffers(sim: Simulation, season: Season, lots: readonly CutLot[], howMany: number): Offer[] {
  const random = sim.random(`offers ${season.heldOn}`)
  const { yesterday } = sim.calendar
  return lots
    .flatMap((lot) => {
      const { variety, crop, graftsBehind } = lot.limb
      const isFit =
        variety !== null && variety.name !== pendingVariety && crop !== 'grape' && lot.inStore >= 2
      const rank = random.next() ** (1 / (1 + (variety?.wanted ?? 0) + 20 * graftsBehind))
      return isFit && lot.cutOn < yesterday ? [{ lot, rank }] : []
    })
    .sort((a, b) => b.rank - a.rank)
    .slice(0, howMany)
    .map(({ lot }) => shareOut(random, lot))
}

interface Evening {
  readonly on: CivilDate
  readonly offers: Offer[]
}

/** Three evenings around the opening; a lot that was cut later comes on the day after it was cut. */
function planEvenings(sim: Simulation, season: Season, offers: readonly Offer[]): readonly Evening[] {
  const { yesterday } = sim.calendar
  const evenings = new Map<CivilDate, Offer[]>()
  for (const [i, offer] of offers.entries()) {
    const afterCutting = addDays(offer.lot.cutOn, 1)
    const due = addDays(season.claimsOpenOn, (i % 3) * (season.kind === 'budding' ? 1 : 2))
    const on = earlier(later(due, afterCutting), yesterday)
    evenings.set(on, [...(evenings.get(on) ?? []), offer])
  }
  return [...evenings].map(([on, list]) => ({ on, offers: list })).sort((a, b) => (a.on < b.on ? -1 : 1))
}

const packers = ['priya', 'joss', 'samir'] as const

async function putOnTable(
  sim: Simulation,
  world: World,
  swapId: string,
  evening: Evening,
  index: number,
): Promise<readonly OnOffer[]> {
  const table = index % packers.length
  const packer = personOf(world, packers[table] ?? 'joss')
  const offers = evening.offers.map(({ lot, sticksPerShare, shares }, i) => ({
    lotId: lot.lotId,
    sticksPerShare,
    shares,
    note: `Table ${'ABC'.charAt(table)}, bag ${i + 1}`,
  }))
  const input = OfferLotsInput.parse({ key: sim.db.newId(), swapId, offers })
  const { offeringIds } = mustWork(
    await offerLots(sim.at(evening.on, 17, 30), packer.actor, input),
    'put lots on the table',
  )
  // The command answers in the order of the lots' ids.
  const lotIds = offers.map(({ lotId }) => lotId).sort((a, b) => (a < b ? -1 : 1))
  return evening.offers.map(({ lot, sticksPerShare, shares }) => {
    const variety = required(lot.limb.variety, 'the variety of a lot on offer')
    return {
      offeringId: required(offeringIds[lotIds.indexOf(lot.lotId)], 'the offering of a lot'),
      lot,
      variety: variety.name,
      wanted: variety.wanted,
      sticksPerShare,
      offeredOn: evening.on,
      left: shares,
    }
  })
}

/** Plans and opens a swap and lays its table. */
export async function offerWood(
  sim: Simulation,
  world: World,
  season: Season,
  lots: readonly CutLot[],
  howMany: number,
): Promise<DemoSwap> {
  const swapId = await planSwap(sim, world, season)
  const evenings = planEvenings(sim, season, chooseOffers(sim, season, lots, howMany))
  const offers: OnOffer[] = []
  for (const [i, evening] of evenings.entries())
    offers.push(...(await putOnTable(sim, world, swapId, evening, i)))
  return { swapId, season, offers }
}
