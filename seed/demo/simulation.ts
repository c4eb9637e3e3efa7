import type { Actor } from '#lib/access/actor.ts'
import { required } from '#lib/kernel/assert.ts'
import { type CivilDate, instantIn } from '#lib/kernel/civil-date.ts'
import type { Result } from '#lib/kernel/result.ts'
import { type Random, seededRandom } from '#lib/kernel/seeded-random.ts'
import type { Database } from '#lib/platform/database/database.ts'
import type { LotKind } from '#lib/platform/generated/enums.ts'
import { type DemoCalendar, demoCalendar, timeZone } from '#seed/demo/calendar.ts'
import type { CastMember } from '#seed/demo/data/people.ts'
import type { LimbSeed } from '#seed/demo/data/trees.ts'
import type { VarietySeed } from '#seed/demo/data/varieties.ts'
import type { Crop } from '#seed/demo/truth.ts'

export interface Person extends CastMember {
  readonly memberId: string
  readonly actor: Actor
  readonly joinedOn: CivilDate
}

export interface GrownVariety extends VarietySeed {
  readonly varietyId: string
  readonly crop: Crop
}

export interface GrownLimb {
  readonly limbId: string
  readonly treeId: string
  /** As it was entered. */
  readonly entered: Omit<LimbSeed, 'variety'>
  /** Null while nobody knows what it is. */
  readonly variety: GrownVariety | null
  readonly crop: Crop
  readonly keeper: Person
  readonly place: string
  /** From when it is strong enough to give wood. */
  readonly givesFrom: CivilDate
  /** How many recorded grafts lie between this limb and the first tree of its line. */
  readonly graftsBehind: number
}

export interface StoreRoom {
  readonly storeId: string
  readonly key: string
}

/** A lot with what the simulator knows to be left of it in store. */
export interface CutLot {
  readonly lotId: string
  readonly code: string
  readonly limb: GrownLimb
  readonly kind: LotKind
  readonly cutOn: CivilDate
  readonly sticks: number
  /** The key of the store that it is in. */
  storeKey: string
  inStore: number
}

/** Wood in somebody's hands. */
export interface Received {
  readonly lot: CutLot
  readonly person: Person
  readonly sticks: number
  readonly on: CivilDate
}

/** The state of the world while it is being made. Acts add to the arrays, in an order that the seed alone decides. */
export interface World {
  readonly people: readonly Person[]
  readonly varieties: readonly GrownVariety[]
  readonly stores: readonly StoreRoom[]
  readonly limbs: GrownLimb[]
}

/** The machinery of the simulator: time, chance, and commands that must not be refused. */
export interface Simulation {
  readonly db: Database
  readonly calendar: DemoCalendar
  /** A stream of chance of its own for each act, so that a change in one leaves the others as they were. */
  random(act: string): Random
  /** The database as it is used at a moment of the simulated past. */
  at(day: CivilDate, hour?: number, minute?: number): Database
}

function textHash(text: string): number {
  let hash = 2166136261
  for (const character of text) hash = Math.imul(hash ^ (character.codePointAt(0) ?? 0), 16777619)
  return hash >>> 0
}

const hourMs = 3_600_000

export function simulation(db: Database, now: Date, seed: number): Simulation {
  const noons = new Map<CivilDate, number>()
  const noonOf = (day: CivilDate): number => {
    const known = noons.get(day) ?? instantIn(timeZone, day, 12).getTime()
    noons.set(day, known)
    return known
  }
  return {
    db,
    calendar: demoCalendar(now),
    random: (act) => seededRandom((seed ^ textHash(act)) >>> 0),
    at: (day, hour = 18, minute = 30) => {
      // Counted from noon, because clocks change before anybody in this world is up.
      const instant = new Date(noonOf(day) + (hour - 12) * hourMs + minute * 60_000)
      // The present is never overtaken, whatever the hour at which the world is made.
      return { ...db, now: () => (instant < now ? instant : now) }
    },
  }
}

/** The answer of a command that the simulator knows to be possible; a refusal is a defect of the seed. */
export function mustWork<Value, Refusal>(result: Result<Value, Refusal>, what: string): Value {
  if (result.ok) return result.value
  throw new Error(`The demo world could not ${what}: ${JSON.stringify(result.refusal)}`)
}

/** Connections that the simulator keeps busy; two of the usual pool are left for others. */
const hands = 8

/** Runs independent commands, several at once; the answers keep the order of the items. */
export async function severalAtOnce<Item, Answer>(
  items: readonly Item[],
  work: (item: Item, index: number) => Promise<Answer>,
): Promise<Answer[]> {
  const answers = new Map<number, Answer>()
  const waiting = [...items.entries()]
  const takeTheNext = async () => {
    for (let next = waiting.shift(); next; next = waiting.shift())
      answers.set(next[0], await work(next[1], next[0]))
  }
  await Promise.all(Array.from({ length: Math.min(hands, items.length) }, takeTheNext))
  return items.map((_, index) => answers.get(index) as Answer)
}

export const personOf = (world: Pick<World, 'people'>, key: string): Person =>
  required(
    world.people.find((person) => person.key === key),
    `the person ${key}`,
  )

export const varietyOf = (world: Pick<World, 'varieties'>, name: string): GrownVariety =>
  required(
    world.varieties.find((variety) => variety.name === name),
    `the variety ${name}`,
  )

export const storeOf = (world: Pick<World, 'stores'>, key: string): StoreRoom =>
  required(
    world.stores.find((store) => store.key === key),
    `the store ${key}`,
  )

/** Who writes something down for a person: they themselves, or a helper when they have no account. */
export function scribeOf(world: Pick<World, 'people'>, person: Person): Actor {
  if (person.email !== null) return person.actor
  return personOf(world, person.key === 'hester' ? 'priya' : 'joss').actor
}

/** A standard normal deviate (Box and Muller 1958). */
export function normalDeviate(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random.next())) * Math.cos(2 * Math.PI * random.next())
}

/** One of the items, by weight. Throws when no weight is positive. */
export function pickByWeight<Item>(random: Random, items: readonly (readonly [Item, number])[]): Item {
  let left = random.next() * items.reduce((sum, [, weight]) => sum + weight, 0)
  const found = items.find(([, weight]) => {
    left -= weight
    return weight > 0 && left < 0
  })
  return required(found, 'an item with a weight')[0]
}
