import { required } from '#lib/kernel/assert.ts'
import { addDays } from '#lib/kernel/civil-date.ts'
import { foundGroup } from '#lib/people/found-group.ts'
import { addTree } from '#lib/trees/add-tree.ts'
import { AddTreeInput } from '#lib/trees/input.ts'
import { addVariety } from '#lib/varieties/add-variety.ts'
import { AddVarietyInput } from '#lib/varieties/input.ts'
import { addStore } from '#lib/wood/add-store.ts'
import { AddStoreInput, LogCuttingSessionInput } from '#lib/wood/input.ts'
import { logCuttingSession } from '#lib/wood/log-cutting-session.ts'
import { addLogin, joinByInvitation } from '#seed/demo/acts/gather-people.ts'
import { timeZone } from '#seed/demo/calendar.ts'
import { hollowBank } from '#seed/demo/data/people.ts'
import { mustWork, type Person, type Simulation } from '#seed/demo/simulation.ts'

const sorts = [
  { taxonKey: 'malus-domestica', name: 'Keswick Codlin', stock: 'Seedling apple' },
  { taxonKey: 'malus-domestica', name: 'Yellow Ingestrie', stock: 'M25' },
  { taxonKey: 'pyrus-communis', name: 'Hessle', stock: 'Seedling pear' },
] as const

async function invitePeople(sim: Simulation, host: Person['actor'], guest: Person): Promise<void> {
  const on = addDays(sim.calendar.yesterday, -400)
  const email = required(guest.email, 'the guest’s e-mail address')
  const { loginId } = await sim.db.prisma.member.findUniqueOrThrow({
    where: { groupId_id: { groupId: guest.actor.groupId, id: guest.memberId } },
  })
  const guestLogin = required(loginId, 'the guest’s login')
  await joinByInvitation(sim, host, { loginId: guestLogin, email, role: 'helper' }, on)
  for (const person of hollowBank.members) {
    const login = { loginId: await addLogin(sim, person), email: person.email, role: 'member' as const }
    await joinByInvitation(sim, host, login, on)
  }
  await sim.db.prisma.outboxMail.deleteMany({ where: { subject: { contains: 'invites you to' } } })
}

async function plantOne(sim: Simulation, actor: Person['actor'], sort: (typeof sorts)[number]) {
  const on = addDays(sim.calendar.current.cutFrom, -20)
  const variety = AddVarietyInput.parse({
    key: sim.db.newId(),
    taxonKey: sort.taxonKey,
    name: sort.name,
    nameCertainty: 'likely',
    protectionCheckedOn: on,
  })
  const { varietyId } = mustWork(await addVariety(sim.at(on), actor, variety), `list ${sort.name}`)
  const tree = AddTreeInput.parse({
    key: sim.db.newId(),
    keeperId: actor.memberId,
    rootstock: sort.stock,
    place: 'Hollow Bank',
    limbs: [{ mark: 'A', varietyId, origin: 'own', identity: 'fruited_true' }],
  })
  const { limbIds } = mustWork(await addTree(sim.at(on), actor, tree), `plant ${sort.name}`)
  return required(limbIds[0], 'the limb of a new tree')
}

/** A second, tiny group with wood of its own, so that somebody belongs to two and neither sees the other's. */
export async function foundHollowBank(sim: Simulation, guest: Person): Promise<void> {
  const { slug, name, founder } = hollowBank
  const foundedOn = addDays(sim.calendar.yesterday, -420)
  const input = {
    slug,
    name,
    timeZone,
    region: 'GB-ENG',
    organiserEmail: founder.email,
    organiserName: founder.name,
  }
  const { groupId, memberId } = mustWork(await foundGroup(sim.at(foundedOn), input), `found ${name}`)
  const actor = { groupId, memberId, role: 'organiser' } as const
  await invitePeople(sim, actor, guest)
  const store = AddStoreInput.parse({ key: sim.db.newId(), name: 'Bram’s fridge', kind: 'fridge' })
  const { storeId } = mustWork(await addStore(sim.at(foundedOn, 21), actor, store), 'open a store')
  const limbIds: string[] = []
  for (const sort of sorts) limbIds.push(await plantOne(sim, actor, sort))
  const { kind, cutTo } = sim.calendar.current
  const session = LogCuttingSessionInput.parse({
    key: sim.db.newId(),
    cutterId: memberId,
    cutOn: cutTo,
    toolCare: 'wiped_between_trees',
    lots: limbIds.map((limbId) => ({
      limbId,
      sticks: 8,
      kind: kind === 'budding' ? 'budwood' : 'scion_wood',
      diameter: 'pencil',
      budStage: 0,
      packaging: 'sealed_damp',
      storeId,
    })),
  })
  mustWork(await logCuttingSession(sim.at(cutTo, 20), actor, session), 'log a session at Hollow Bank')
}
