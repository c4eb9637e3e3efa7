import { civilDateIn } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { makeGroup, makeLot, type TestGroup } from '#tests/support/actors.ts'

export interface RushOptions {
  readonly members: number
  readonly lots: number
  readonly shares: number
  readonly sticksPerShare: number
  readonly capPerMember: number
  readonly capPerVariety: number
  /** Whether the members can sign in. */
  readonly withLogins?: boolean
}

/** A group whose claims have just opened: many members, few lots. */
export interface RushWorld {
  readonly group: TestGroup
  readonly swapId: string
  readonly memberIds: readonly string[]
  /** The login of each member, in the same order, where they have one. */
  readonly loginIds: readonly string[]
  readonly offerings: readonly {
    readonly offeringId: string
    readonly lotId: string
    readonly code: string
  }[]
}

/** Written straight into the tables, past the commands that would write an audit of it. */
export async function makeRushWorld(db: Database, options: RushOptions): Promise<RushWorld> {
  const group = await makeGroup(db)
  const { groupId, organiser } = group
  const swapId = db.newId()
  const at = db.now().getTime()
  await db.prisma.swap.create({
    data: {
      groupId,
      id: swapId,
      name: 'Winter swap',
      place: 'Village hall',
      heldOn: new Date(at + 9 * 86_400_000),
      status: 'open',
      claimsOpenAt: new Date(at - 3_600_000),
      claimsCloseAt: new Date(at + 5 * 86_400_000),
      capPerMember: options.capPerMember,
      capPerVariety: options.capPerVariety,
      createdById: organiser.memberId,
    },
  })
  // Fresh wood, as it is on the day: a page works out hour by hour how an old lot has kept.
  const cutOn = civilDateIn('Europe/London', new Date(at - 14 * 86_400_000))
  const offerings: { offeringId: string; lotId: string; code: string }[] = []
  for (let i = 0; i < options.lots; i++) {
    const sticks = options.shares * options.sticksPerShare
    const { lotId, code } = await makeLot(db, group, { sticks, cutOn })
    offerings.push({ offeringId: db.newId(), lotId, code })
  }
  await db.prisma.offering.createMany({
    data: offerings.map(({ offeringId, lotId }) => ({
      groupId,
      id: offeringId,
      swapId,
      lotId,
      sticksPerShare: options.sticksPerShare,
      shares: options.shares,
      offeredById: organiser.memberId,
      offeredAt: db.now(),
    })),
  })
  const memberIds = Array.from({ length: options.members }, () => db.newId())
  const loginIds = options.withLogins ? memberIds.map(() => db.newId()) : []
  await db.prisma.login.createMany({
    data: loginIds.map((id, i) => ({ id, email: `${id}@example.org`, displayName: `Member ${i}` })),
  })
  await db.prisma.member.createMany({
    data: memberIds.map((id, i) => ({
      groupId,
      id,
      loginId: loginIds[i] ?? null,
      displayName: `Member ${i}`,
      joinedOn: db.now(),
    })),
  })
  return { group, swapId, memberIds, loginIds, offerings }
}
