import { formatEpithet } from '#lib/grafting/cultivar-name.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'

interface Offer {
  readonly groupId: string
  readonly id: string
  readonly swapId: string
  readonly slug: string
  readonly groupName: string
  readonly timeZone: string
  readonly swapName: string
  readonly memberName: string
  readonly email: string | null
  readonly varietyName: string
  readonly sticks: number
  readonly expiresAt: Date
}

const untilWords = (timeZone: string, at: Date) =>
  new Intl.DateTimeFormat('en-GB', {
    timeZone,
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  }).format(at)

function mailOf(offer: Offer, siteUrl: string) {
  const name = formatEpithet(offer.varietyName)
  const sticks = offer.sticks === 1 ? '1 stick' : `${offer.sticks} sticks`
  return {
    subject: `${offer.groupName}: ${sticks} of ${name} for you`,
    body: `${offer.memberName}, you waited for ${name} in ${offer.swapName}, and it is your turn.

${sticks} are kept for you until ${untilWords(offer.timeZone, offer.expiresAt)}. Accept or decline here:
${siteUrl}/g/${offer.slug}/swaps/${offer.swapId}/yours

After that they go to the next in line.
`,
  }
}

async function untoldOffers(tx: Queries, now: Date): Promise<Offer[]> {
  return tx.$queryRaw<Offer[]>`
    select q.group_id as "groupId", q.id, q.swap_id as "swapId", g.slug, g.name as "groupName",
        g.time_zone as "timeZone", s.name as "swapName", m.display_name as "memberName",
        coalesce(u.email, m.email) as email, y.name as "varietyName",
        q.offered_shares * o.sticks_per_share as sticks, q.expires_at as "expiresAt"
      from waiting q
      join orchard_group g on g.id = q.group_id
      join swap s on s.group_id = q.group_id and s.id = q.swap_id
      join offering o on o.group_id = q.group_id and o.id = q.offering_id
      join lot l on l.group_id = q.group_id and l.id = q.lot_id
      join limb b on b.group_id = l.group_id and b.id = l.limb_id
      join variety y on y.group_id = b.group_id and y.id = b.variety_id
      join member m on m.group_id = q.group_id and m.id = q.member_id
      left join login u on u.id = m.login_id
      where q.status = 'offered' and q.told_at is null and q.expires_at > ${now}::timestamptz
      order by q.offered_at, q.id
      limit 200`
}

/** Writes a mail to everybody who was offered shares and does not know yet: once each. Answers how many. */
export async function tellOffered(db: Database, siteUrl: string): Promise<number> {
  return db.prisma.$transaction(async (tx) => {
    const now = db.now()
    let written = 0
    for (const offer of await untoldOffers(tx, now)) {
      // Another server may be telling the same people: whoever marks the offer writes the mail.
      const { count } = await tx.waiting.updateMany({
        where: { groupId: offer.groupId, id: offer.id, toldAt: null },
        data: { toldAt: now },
      })
      if (count === 0 || offer.email === null) continue
      await tx.outboxMail.create({
        data: { id: db.newId(), toAddress: offer.email, ...mailOf(offer, siteUrl) },
      })
      written++
    }
    return written
  })
}
