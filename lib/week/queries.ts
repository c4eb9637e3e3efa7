import type { Actor } from '#lib/access/actor.ts'
import { can } from '#lib/access/policy.ts'
import { nextLook } from '#lib/attempts/next-look.ts'
import { dueAmong, listAttempts } from '#lib/attempts/queries.ts'
import type { AttemptView } from '#lib/attempts/view.ts'
import { type CivilDate, civilDateIn, utcMidnight } from '#lib/kernel/civil-date.ts'
import { listInvitations } from '#lib/people/queries.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { listSwaps } from '#lib/swaps/queries.ts'
import type { SwapView } from '#lib/swaps/view.ts'
import { careNeeds } from '#lib/week/care-needs.ts'
import { healthNeeds } from '#lib/week/health-needs.ts'
import { byUrgency, type Need } from '#lib/week/need.ts'
import { type StickSums, stickSums } from '#lib/week/stick-sums.ts'
import { swapNeeds } from '#lib/week/swap-needs.ts'
import { woodNeeds } from '#lib/week/wood-needs.ts'
import { type Season, seasonStarting, seasonStartYear } from '#lib/wood/season.ts'

/** A day to keep in mind. */
export type WeekDate =
  | {
      readonly kind: 'claims-open' | 'claims-close'
      readonly swap: SwapView
      readonly at: Date
      readonly on: CivilDate
    }
  | { readonly kind: 'swap'; readonly swap: SwapView; readonly on: CivilDate }
  | { readonly kind: 'look'; readonly attempts: number; readonly on: CivilDate }

/** What the page of the week shows. */
export interface Week {
  readonly needs: readonly Need[]
  readonly season: Season
  /** The swap to come, or the one just held. */
  readonly swap: SwapView | null
  readonly sticks: StickSums
  readonly dates: readonly WeekDate[]
  readonly yours: {
    readonly lots: number
    readonly sticksCut: number
    readonly trees: number
    /** Batches that stand, and those of this season. */
    readonly attempts: number
    readonly attemptsThisSeason: number
    readonly nextLookOn: CivilDate | null
  }
}

interface When {
  readonly today: CivilDate
  readonly timeZone: string
}

/** Looks shown one by one; the others are counted. */
const looksShown = 3
const datesShown = 6

function lookNeeds(attempts: readonly AttemptView[]): readonly Need[] {
  const due = dueAmong(attempts)
  const shown = due.slice(0, looksShown).map(
    (check): Need => ({
      kind: 'look',
      due: check,
      by: check.look.on,
      isLate: check.look.state === 'late',
    }),
  )
  const rest = due.length - shown.length
  return rest > 0 ? [...shown, { kind: 'more-looks', count: rest, by: null, isLate: false }] : shown
}

async function invitationNeeds(db: Database, actor: Actor): Promise<readonly Need[]> {
  if (!can(actor, 'invite-people')) return []
  const invitations = await listInvitations(db, actor)
  if (invitations.length === 0) return []
  const expired = invitations.filter(({ state }) => state === 'expired').length
  return [{ kind: 'not-joined', people: invitations.length, expired, by: null, isLate: false }]
}

async function gatherNeeds(
  db: Database,
  actor: Actor,
  when: When,
  swaps: readonly SwapView[],
  attempts: readonly AttemptView[],
): Promise<readonly Need[]> {
  const needs = await Promise.all([
    swapNeeds(db, actor, swaps, when),
    woodNeeds(db, actor, when),
    healthNeeds(db, actor, when),
    careNeeds(db, actor),
    invitationNeeds(db, actor),
  ])
  return [...needs.flat(), ...lookNeeds(attempts)].sort(byUrgency)
}

async function zoneOf(db: Database, actor: Actor): Promise<string> {
  const group = await db.prisma.orchardGroup.findUniqueOrThrow({
    where: { id: actor.groupId },
    select: { timeZone: true },
  })
  return group.timeZone
}

/** Everything that waits for the person who asks, derived from the ledger; the most pressing first. */
export async function needsOf(db: Database, actor: Actor, today: CivilDate): Promise<readonly Need[]> {
  const timeZone = await zoneOf(db, actor)
  const [swaps, attempts] = await Promise.all([listSwaps(db, actor), listAttempts(db, actor)])
  return gatherNeeds(db, actor, { today, timeZone }, swaps, attempts)
}

function datesOf(
  swaps: readonly SwapView[],
  attempts: readonly AttemptView[],
  { today, timeZone }: When,
): readonly WeekDate[] {
  const ofSwaps = swaps
    .filter((swap) => swap.status !== 'finished')
    .flatMap((swap): WeekDate[] => {
      const on = (instant: Date) => civilDateIn(timeZone, instant)
      return [
        { kind: 'claims-open', swap, at: swap.claimsOpenAt, on: on(swap.claimsOpenAt) },
        { kind: 'claims-close', swap, at: swap.claimsCloseAt, on: on(swap.claimsCloseAt) },
        { kind: 'swap', swap, on: swap.heldOn },
      ]
    })
  const looks = new Map<CivilDate, number>()
  for (const attempt of attempts) {
    const look = nextLook(attempt.looks)
    if (look?.state === 'next') looks.set(look.on, (looks.get(look.on) ?? 0) + 1)
  }
  const ofLooks = [...looks].map(([on, count]): WeekDate => ({ kind: 'look', attempts: count, on }))
  return [...ofSwaps, ...ofLooks]
    .filter(({ on }) => on >= today)
    .sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0))
    .slice(0, datesShown)
}

/** The day of the first look to come. */
const firstLookAhead = (attempts: readonly AttemptView[]): CivilDate | null =>
  attempts.reduce<CivilDate | null>((first, attempt) => {
    const look = nextLook(attempt.looks)
    return look?.state === 'next' && (first === null || look.on < first) ? look.on : first
  }, null)

async function ownWood(db: Database, actor: Actor, season: Season) {
  const { groupId, memberId } = actor
  const rows = await db.prisma.$queryRaw<{ lots: number; sticks: number; trees: number }[]>`
    select
      (select count(*)::int from tree t where t.group_id = ${groupId}::uuid and t.keeper_id = ${memberId}::uuid
        and t.gone_on is null) as trees,
      count(l.id)::int as lots, coalesce(-sum(h.sticks), 0)::int as sticks
    from lot l
    join cutting_session c on c.group_id = l.group_id and c.id = l.session_id and c.cutter_id = ${memberId}::uuid
    join holding h on h.group_id = l.group_id and h.lot_id = l.id and h.account = 'cut'
    where l.group_id = ${groupId}::uuid and l.cut_on >= ${utcMidnight(season.from)}::date
      and l.cut_on < ${utcMidnight(season.before)}::date`
  return rows[0] ?? { lots: 0, sticks: 0, trees: 0 }
}

/** The swap of today or to come that is nearest; without one, the newest that is not finished. */
function swapInSight(swaps: readonly SwapView[], today: CivilDate): SwapView | null {
  const toCome = swaps.filter((swap) => swap.heldOn >= today && swap.status !== 'finished')
  return toCome.at(-1) ?? swaps.find((swap) => swap.status !== 'finished') ?? null
}

/** The page "this week" of the person who asks. */
export async function getWeek(db: Database, actor: Actor, today: CivilDate): Promise<Week> {
  const season = seasonStarting(seasonStartYear(today))
  const timeZone = await zoneOf(db, actor)
  const when = { today, timeZone }
  const [swaps, attempts, sticks, own] = await Promise.all([
    listSwaps(db, actor),
    listAttempts(db, actor),
    stickSums(db, actor, season),
    ownWood(db, actor, season),
  ])
  const standing = attempts.filter((attempt) => attempt.withdrawn === null)
  const dates = datesOf(swaps, standing, when)
  return {
    needs: await gatherNeeds(db, actor, when, swaps, standing),
    season,
    swap: swapInSight(swaps, today),
    sticks,
    dates,
    yours: {
      lots: own.lots,
      sticksCut: own.sticks,
      trees: own.trees,
      attempts: standing.length,
      attemptsThisSeason: standing.filter(({ madeOn }) => madeOn >= season.from).length,
      nextLookOn: firstLookAhead(standing),
    },
  }
}
