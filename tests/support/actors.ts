import { randomBytes } from 'node:crypto'
import type { Actor, Role } from '#lib/access/actor.ts'
import { civilDate, utcMidnight } from '#lib/kernel/civil-date.ts'
import { moveSticks } from '#lib/ledger/move-sticks.ts'
import type { Database } from '#lib/platform/database/database.ts'

const alphabet = '23456789ABCDEFGHJKMNPQRSTUVWXYZ'

/** A code that the table accepts; its last character is no true check character. */
export const anyCode = (): string =>
  Array.from(randomBytes(6), (byte) => alphabet[byte % alphabet.length] ?? '2').join('')

export interface TestGroup {
  readonly groupId: string
  readonly slug: string
  readonly organiser: Actor
  readonly steward: Actor
  readonly helper: Actor
  readonly member: Actor
  readonly otherMember: Actor
}

/** A group with one person of each role, written straight into the tables. */
export async function makeGroup(db: Database, name = 'Test Circle'): Promise<TestGroup> {
  const groupId = db.newId()
  const slug = `group-${randomBytes(6).toString('hex')}`
  await db.prisma.orchardGroup.create({ data: { id: groupId, slug, name, timeZone: 'Europe/London' } })
  const person = async (role: Role, displayName: string): Promise<Actor> => {
    const memberId = db.newId()
    const loginId = db.newId()
    await db.prisma.login.create({
      data: { id: loginId, email: `${randomBytes(8).toString('hex')}@example.org`, displayName },
    })
    await db.prisma.member.create({
      data: {
        groupId,
        id: memberId,
        loginId,
        displayName,
        role,
        joinedOn: utcMidnight(civilDate('2020-01-01')),
      },
    })
    return { groupId, memberId, role }
  }
  return {
    groupId,
    slug,
    organiser: await person('organiser', 'Olive Organiser'),
    steward: await person('steward', 'Stan Steward'),
    helper: await person('helper', 'Hetty Helper'),
    member: await person('member', 'Mabel Member'),
    otherMember: await person('member', 'Otto Other'),
  }
}

export interface TestLot {
  readonly lotId: string
  readonly code: string
  readonly limbId: string
  readonly treeId: string
  readonly treeCode: string
  readonly varietyId: string
  readonly storeId: string
  readonly sessionId: string
}

/** A lot of `sticks` in a store, of a new variety on a new tree kept by `group.member`. */
export async function makeLot(
  db: Database,
  group: TestGroup,
  options: {
    readonly sticks?: number
    readonly taxonKey?: string
    readonly genus?: string
    readonly family?: string
    readonly varietyName?: string
    readonly cutOn?: string
  } = {},
): Promise<TestLot> {
  const { groupId, member } = group
  const taxonKey = options.taxonKey ?? 'malus-domestica'
  await db.prisma.taxon.upsert({
    where: { key: taxonKey },
    update: {},
    create: {
      key: taxonKey,
      genus: options.genus ?? 'Malus',
      species: 'domestica',
      commonName: 'apple',
      family: options.family ?? 'Rosaceae',
      storageProfile: 'apple',
    },
  })
  const varietyId = db.newId()
  const name = options.varietyName ?? `Variety ${randomBytes(4).toString('hex')}`
  await db.prisma.variety.create({
    data: { groupId, id: varietyId, taxonKey, name, nameKey: name.toLowerCase() },
  })
  const treeId = db.newId()
  const treeCode = anyCode()
  await db.prisma.issuedCode.create({ data: { groupId, code: treeCode, kind: 'tree' } })
  await db.prisma.tree.create({ data: { groupId, id: treeId, code: treeCode, keeperId: member.memberId } })
  const limbId = db.newId()
  await db.prisma.limb.create({ data: { groupId, id: limbId, treeId, mark: 'A', varietyId } })
  const storeId = db.newId()
  await db.prisma.store.create({
    data: {
      groupId,
      id: storeId,
      name: `Fridge ${randomBytes(4).toString('hex')}`,
      kind: 'fridge',
      typedCelsius: 3,
    },
  })
  const cutOn = utcMidnight(civilDate(options.cutOn ?? '2026-01-10'))
  const sessionId = db.newId()
  await db.prisma.cuttingSession.create({
    data: {
      groupId,
      id: sessionId,
      cutterId: member.memberId,
      recordedById: member.memberId,
      cutOn,
      toolCare: 'wiped_between_trees',
    },
  })
  const lotId = db.newId()
  const code = anyCode()
  await db.prisma.issuedCode.create({ data: { groupId, code, kind: 'lot' } })
  await db.prisma.lot.create({
    data: {
      groupId,
      id: lotId,
      code,
      limbId,
      sessionId,
      cutOn,
      kind: 'scion_wood',
      diameter: 'pencil',
      budStage: 0,
      packaging: 'sealed_damp',
    },
  })
  await db.prisma.stint.create({ data: { groupId, id: db.newId(), lotId, storeId, beganAt: cutOn } })
  await moveSticks(db.prisma, {
    groupId,
    id: db.newId(),
    lotId,
    kind: 'cut',
    from: 'cut',
    to: 'store',
    sticks: options.sticks ?? 20,
    happenedAt: cutOn,
    recordedBy: member.memberId,
  })
  return { lotId, code, limbId, treeId, treeCode, varietyId, storeId, sessionId }
}
