import { RecordCheckInput, WithdrawAttemptInput } from '#lib/attempts/input.ts'
import { recordCheck } from '#lib/attempts/record-check.ts'
import { withdrawAttempt } from '#lib/attempts/withdraw-attempt.ts'
import { findMethod } from '#lib/grafting/methods.ts'
import { required } from '#lib/kernel/assert.ts'
import { addDays, type CivilDate, civilDate } from '#lib/kernel/civil-date.ts'
import type { Random } from '#lib/kernel/seeded-random.ts'
import { type MadeGraft, writeGraft } from '#seed/demo/acts/graft-wood.ts'
import {
  mustWork,
  normalDeviate,
  pickByWeight,
  type Received,
  type Simulation,
  scribeOf,
  severalAtOnce,
  type World,
} from '#seed/demo/simulation.ts'
import { causeWeights, lateFailures, laterDeath, reporting, trueTake } from '#seed/demo/truth.ts'

/** A look as it was seen: the pieces and, in all, what the dead died of. */
interface Look {
  readonly stage: Stage
  readonly on: CivilDate
  readonly alive: number
  readonly dead: number
  readonly unknown: number
  readonly causes: ReadonlyMap<string, number>
  /** What was first typed, where it was a slip. */
  readonly slip: { readonly alive: number; readonly dead: number } | null
}

/** A batch whose grower looked at it when the leaves fell. */
export interface SeenAtLeafFall {
  readonly graft: MadeGraft
  readonly alive: number
  readonly on: CivilDate
}

const binomial = (random: Random, trials: number, chance: number) =>
  Array.from({ length: trials }, () => random.chance(chance)).filter(Boolean).length

type Stage = 'first' | keyof typeof laterDeath

/** The days on which a grower would look: at the first sign, after three months, at leaf-fall, in the second spring. */
function lookDays(random: Random, graft: MadeGraft): readonly (readonly [Stage, CivilDate])[] {
  const year = Number(graft.madeOn.slice(0, 4))
  const first = addDays(
    graft.madeOn,
    (findMethod(graft.method)?.firstLook.afterDays ?? 28) + random.integer(0, 14),
  )
  const summer = addDays(graft.madeOn, random.integer(88, 104))
  const leafFall = addDays(civilDate(`${year}-10-24`), random.integer(0, 12))
  const spring = addDays(civilDate(`${year + 1}-05-01`), random.integer(0, 14))
  const all: readonly (readonly [Stage, CivilDate])[] = [
    ['first', first],
    ['summer', summer],
    ['leafFall', leafFall],
    ['secondSpring', spring],
  ]
  return all.filter(([stage, on]) => stage !== 'summer' || on < addDays(leafFall, -20))
}

function deathChance(graft: MadeGraft, stage: Exclude<Stage, 'first'>): number {
  if (stage !== 'secondSpring') return laterDeath[stage]
  const late = lateFailures.find(
    ({ variety, stock }) => variety === graft.variety.name && stock === graft.stock,
  )
  return late?.chance ?? laterDeath.secondSpring
}

function blame(
  random: Random,
  causes: ReadonlyMap<string, number>,
  died: number,
  graft: MadeGraft,
  stage: Stage,
): ReadonlyMap<string, number> {
  if (died === 0 || !random.chance(reporting.namesCauses)) return causes
  const isLatePair = stage === 'secondSpring' && deathChance(graft, stage) > laterDeath.secondSpring
  const cause = isLatePair
    ? 'incompatible'
    : pickByWeight(random, stage === 'first' ? causeWeights.early : causeWeights.later)
  return new Map(causes).set(cause, (causes.get(cause) ?? 0) + died)
}

/** What happens to a batch, and which of it the grower writes down. */
function fateOf(random: Random, graft: MadeGraft, yesterday: CivilDate): readonly Look[] {
  const { crop } = graft.variety
  const p = trueTake({
    crop,
    method: graft.method,
    treatment: graft.treatment,
    variety: graft.variety.name,
    hands: graft.grower.hands,
    woodAgeDays: graft.woodAgeDays,
    luck: normalDeviate(random),
  })
  const unknown = random.chance(reporting.labelLost) ? random.integer(1, Math.min(2, graft.pieces)) : 0
  const isWren = graft.grower.key === 'wren'
  const isLookedAt = isWren || graft.limb.graftsBehind > 0 || random.chance(reporting.everLookedAt)
  let alive = graft.pieces - unknown
  let causes: ReadonlyMap<string, number> = new Map()
  const looks: Look[] = []
  for (const [stage, on] of lookDays(random, graft)) {
    const before = alive
    alive = binomial(random, alive, stage === 'first' ? p : 1 - deathChance(graft, stage))
    causes = blame(random, causes, before - alive, graft, stage)
    const isWritten =
      isLookedAt && (stage === 'first' || stage === 'leafFall' || random.chance(reporting.eachLaterLook))
    const isSlip = random.chance(0.012)
    // A batch that is dead is not looked at again.
    if (!isWritten || on > yesterday || (stage !== 'first' && before === 0)) continue
    const dead = graft.pieces - unknown - alive
    const slip = isSlip && dead > 0 ? { alive: alive + 1, dead: dead - 1 } : null
    looks.push({ stage, on, alive, dead, unknown, causes, slip })
  }
  return looks
}

async function writeLook(sim: Simulation, world: World, graft: MadeGraft, look: Look): Promise<void> {
  const actor = scribeOf(world, graft.grower)
  const entry = {
    attemptId: graft.attemptId,
    checkedOn: look.on,
    alive: look.alive,
    dead: look.dead,
    unknown: look.unknown,
    causes: [...look.causes].map(([cause, pieces]) => ({ cause, pieces })),
    note: look.unknown > 0 ? 'A label came off.' : undefined,
  }
  let supersedesId: string | undefined
  if (look.slip) {
    const input = RecordCheckInput.parse({ key: sim.db.newId(), ...entry, ...look.slip, causes: [] })
    const wrong = mustWork(await recordCheck(sim.at(look.on, 20), actor, input), 'record a look')
    supersedesId = wrong.checkId
  }
  const input = RecordCheckInput.parse({ key: sim.db.newId(), ...entry, supersedesId })
  mustWork(await recordCheck(sim.at(look.on, 20, 30), actor, input), 'record a look')
}

/** All the looks at a season’s batches that were written down until yesterday; answers with those at leaf-fall. */
export async function lookAtGrafts(
  sim: Simulation,
  world: World,
  made: readonly MadeGraft[],
  act: string,
): Promise<readonly SeenAtLeafFall[]> {
  const random = sim.random(`looks ${act}`)
  const fates = made.map((graft) => ({ graft, looks: fateOf(random, graft, sim.calendar.yesterday) }))
  await severalAtOnce(fates, async ({ graft, looks }) => {
    for (const look of looks) await writeLook(sim, world, graft, look)
  })
  return fates.flatMap(({ graft, looks }) =>
    looks.filter(({ stage }) => stage === 'leafFall').map(({ alive, on }) => ({ graft, alive, on })),
  )
}

/** One entry was made for wood that is still in its bag, and was taken out again. */
export async function withdrawOne(sim: Simulation, world: World, unused: readonly Received[]): Promise<void> {
  const mistaken = required(
    unused.find(({ lot }) => lot.limb.crop === 'apple') ?? unused[0],
    'wood that nobody used',
  )
  const { lot, person, sticks, on } = mistaken
  const made = await writeGraft(sim, world, {
    grower: person,
    variety: required(lot.limb.variety, 'the variety of wood that was given'),
    limb: lot.limb,
    lot,
    sticks,
    pieces: sticks * 2,
    method: 'cleft',
    treatment: null,
    stock: null,
    host: null,
    madeOn: addDays(on, 30),
    writtenOn: addDays(on, 31),
    woodAgeDays: 60,
  })
  const input = WithdrawAttemptInput.parse({
    key: sim.db.newId(),
    attemptId: made.attemptId,
    reason: 'Entered for the wrong bag',
  })
  mustWork(
    await withdrawAttempt(sim.at(addDays(on, 33)), scribeOf(world, person), input),
    'withdraw a mistaken entry',
  )
}
