import { required } from '#lib/kernel/assert.ts'
import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'
import { acceptInvitation } from '#lib/people/accept-invitation.ts'
import { addMember } from '#lib/people/add-member.ts'
import { editMember } from '#lib/people/edit-member.ts'
import { foundGroup } from '#lib/people/found-group.ts'
import {
  AddMemberInput,
  EditMemberInput,
  InvitePersonInput,
  RecordDepartureInput,
} from '#lib/people/input.ts'
import { invitePerson } from '#lib/people/invite-person.ts'
import { recordDeparture } from '#lib/people/record-departure.ts'
import { timeZone } from '#seed/demo/calendar.ts'
import { type CastMember, cast, departed, invitedEmail } from '#seed/demo/data/people.ts'
import { mustWork, type Person, type Simulation, severalAtOnce } from '#seed/demo/simulation.ts'

/** Where the links of invitations point; their mail is not kept, because it went out long ago. */
const anyAddress = 'http://localhost'

/** Gives somebody a login, as the first sign-in of a real person does. */
export async function addLogin(
  sim: Simulation,
  person: { readonly name: string; readonly email: string },
): Promise<string> {
  const id = sim.db.newId()
  await sim.db.prisma.login.create({ data: { id, email: person.email, displayName: person.name } })
  return id
}

/** Invites a login into a group and lets it accept the same evening. Returns the membership's id. */
export async function joinByInvitation(
  sim: Simulation,
  host: Person['actor'],
  guest: { readonly loginId: string; readonly email: string; readonly role: Person['role'] },
  on: CivilDate,
): Promise<string> {
  const { groupId } = host
  const invited = mustWork(
    await invitePerson(
      sim.at(on, 10),
      host,
      InvitePersonInput.parse({ key: sim.db.newId(), email: guest.email, role: guest.role }),
      anyAddress,
    ),
    `invite ${guest.email}`,
  )
  const token = required(invited.token, 'the token of a fresh invitation')
  mustWork(
    await acceptInvitation(sim.at(on, 19), { loginId: guest.loginId }, { token }),
    `let ${guest.email} in`,
  )
  const member = await sim.db.prisma.member.findUniqueOrThrow({
    where: { groupId_loginId: { groupId, loginId: guest.loginId } },
  })
  return member.id
}

const joinedOn = (sim: Simulation, person: CastMember) =>
  addDays(sim.calendar.yesterday, -Math.round(person.yearsAgo * 365.25))

async function bringIn(sim: Simulation, founder: Person, newcomer: CastMember): Promise<Person> {
  const on = joinedOn(sim, newcomer)
  const { name, email, role, phone, note } = newcomer
  const { groupId } = founder.actor
  const asMember = (memberId: string): Person => ({
    ...newcomer,
    memberId,
    joinedOn: on,
    actor: { groupId, memberId, role },
  })
  if (email === null) {
    const input = AddMemberInput.parse({ key: sim.db.newId(), displayName: name, phone, note, role })
    const { memberId } = mustWork(await addMember(sim.at(on), founder.actor, input), `add ${name}`)
    return asMember(memberId)
  }
  const loginId = await addLogin(sim, { name, email })
  const memberId = await joinByInvitation(sim, founder.actor, { loginId, email, role }, on)
  if (phone !== undefined || note !== undefined) {
    const input = EditMemberInput.parse({ memberId, displayName: name, phone, email, note })
    mustWork(await editMember(sim.at(on, 20), founder.actor, input), `note how to reach ${name}`)
  }
  return asMember(memberId)
}

async function found(sim: Simulation, founder: CastMember): Promise<Person> {
  const on = joinedOn(sim, founder)
  const email = required(founder.email, 'the founder’s e-mail address')
  const { groupId, memberId } = mustWork(
    await foundGroup(sim.at(on, 9), {
      organiserEmail: email,
      slug: 'marrow-lane',
      name: 'Marrow Lane Orchard Circle',
      timeZone,
      region: 'GB-ENG',
      organiserName: founder.name,
    }),
    'found the Circle',
  )
  return { ...founder, memberId, joinedOn: on, actor: { groupId, memberId, role: 'organiser' } }
}

async function letGo(sim: Simulation, founder: Person): Promise<void> {
  const leaver = await bringIn(sim, founder, departed)
  const on = addDays(sim.calendar.finished[1].heldOn, 40)
  const input = RecordDepartureInput.parse({ memberId: leaver.memberId, leftOn: on })
  mustWork(await recordDeparture(sim.at(on), founder.actor, input), `let ${leaver.name} go`)
}

/** The Circle is founded, and everybody comes in the order and at the time of their joining. */
export async function gatherPeople(sim: Simulation): Promise<readonly Person[]> {
  const [first, ...rest] = cast
  const founder = await found(sim, required(first, 'a founder'))
  const others = await severalAtOnce(rest, (newcomer) => bringIn(sim, founder, newcomer))
  await letGo(sim, founder)
  mustWork(
    await invitePerson(
      sim.at(addDays(sim.calendar.yesterday, -1)),
      founder.actor,
      InvitePersonInput.parse({ key: sim.db.newId(), email: invitedEmail, role: 'member' }),
      anyAddress,
    ),
    'invite somebody who has not answered yet',
  )
  await sim.db.prisma.outboxMail.deleteMany({ where: { subject: { contains: 'invites you to' } } })
  return [founder, ...others]
}
