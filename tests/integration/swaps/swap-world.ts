import { civilDateIn, utcMidnight } from '#lib/kernel/civil-date.ts'
import type { Result } from '#lib/kernel/result.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { SwapStatus } from '#lib/platform/generated/enums.ts'
import { makeLot, type TestGroup, type TestLot } from '#tests/support/actors.ts'

const dayMs = 86_400_000

/** The value of a result that a test takes for granted; its refusal fails the test. */
export function valueIn<Value>(result: Result<Value, unknown>): Value {
  if (!result.ok) throw new Error(`Refused: ${JSON.stringify(result.refusal)}`)
  return result.value
}

/** The kind of a refusal, or "accepted". */
export const kindOf = (result: Result<unknown, { readonly kind: string }>): string =>
  result.ok ? 'accepted' : result.refusal.kind

export interface SwapOptions {
  readonly status?: SwapStatus
  readonly capPerMember?: number
  readonly capPerVariety?: number
  /** Days from now. */
  readonly opens?: number
  readonly closes?: number
}

/** A swap written straight into the table; claims are open unless the options say otherwise. */
export async function makeSwap(db: Database, group: TestGroup, options: SwapOptions = {}): Promise<string> {
  const id = db.newId()
  const inDays = (days: number) => new Date(db.now().getTime() + days * dayMs)
  await db.prisma.swap.create({
    data: {
      groupId: group.groupId,
      id,
      name: 'February swap',
      heldOn: utcMidnight(civilDateIn('Europe/London', inDays(10))),
      place: 'Village hall',
      status: options.status ?? 'open',
      claimsOpenAt: inDays(options.opens ?? -1),
      claimsCloseAt: inDays(options.closes ?? 1),
      capPerMember: options.capPerMember ?? 10,
      capPerVariety: options.capPerVariety ?? 10,
      createdById: group.organiser.memberId,
    },
  })
  return id
}

export interface TestOffering extends TestLot {
  readonly offeringId: string
}

/** A lot on offer, written straight into the tables: `shares` shares of `sticksPerShare` sticks. */
export async function makeOffering(
  db: Database,
  group: TestGroup,
  swapId: string,
  options: {
    readonly shares?: number
    readonly sticksPerShare?: number
    readonly sticks?: number
    readonly varietyName?: string
    readonly taxonKey?: string
  } = {},
): Promise<TestOffering> {
  const shares = options.shares ?? 5
  const sticksPerShare = options.sticksPerShare ?? 2
  const { varietyName, taxonKey } = options
  const lot = await makeLot(db, group, {
    sticks: options.sticks ?? shares * sticksPerShare,
    ...(varietyName === undefined ? {} : { varietyName }),
    ...(taxonKey === undefined ? {} : { taxonKey }),
  })
  const offeringId = db.newId()
  await db.prisma.offering.create({
    data: {
      groupId: group.groupId,
      id: offeringId,
      swapId,
      lotId: lot.lotId,
      sticksPerShare,
      shares,
      offeredById: group.organiser.memberId,
      offeredAt: db.now(),
    },
  })
  return { ...lot, offeringId }
}

/** Sticks of a lot on each account that holds any. */
export async function holdingsOf(db: Database, lotId: string): Promise<Record<string, number>> {
  const holdings = await db.prisma.holding.findMany({ where: { lotId, sticks: { not: 0 } } })
  return Object.fromEntries(holdings.map(({ account, sticks }) => [account, sticks]))
}

/** Puts a hold on a lot or a limb. */
export async function placeTestHold(
  db: Database,
  group: TestGroup,
  on: { readonly lotId: string } | { readonly limbId: string },
): Promise<string> {
  const id = db.newId()
  await db.prisma.healthHold.create({
    data: {
      ...on,
      groupId: group.groupId,
      id,
      reason: 'canker on the tree',
      placedById: group.steward.memberId,
      placedAt: db.now(),
    },
  })
  return id
}
