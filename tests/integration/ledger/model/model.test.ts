import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { verifyLedger } from '#lib/ledger/verify-ledger.ts'
import { testDatabase } from '#tests/support/database.ts'
import { graft, hand, hold, release, undoGraft, undoHand, undoTaken, walkUp } from './hand-steps.ts'
import type { Model } from './state.ts'
import { commandsOf, sendAgain } from './step.ts'
import { claim, finish, giveBack, offer, open, withdraw } from './swap-steps.ts'
import { changeStore, correct, cut, lose, parcel } from './wood-steps.ts'
import { compare, makeRun, type Real } from './world.ts'

const database = testDatabase({ max: 4 })

const runs = 70
const longest = 90
/** On a machine that has nothing else to do it is thousands; the time is what ends it on a busy one. */
const fewest = 300
const limitMs = 45_000

type Command = fc.AsyncCommand<Model, Real, false>

/** How often each kind of command is drawn, against the others. A new command is one line here and one step. */
const weighted: readonly (readonly [weight: number, command: fc.Arbitrary<Command>])[] = [
  [5, commandsOf(cut)],
  [1, commandsOf(changeStore)],
  [3, commandsOf(lose)],
  [4, commandsOf(correct)],
  [3, commandsOf(parcel)],
  [6, commandsOf(offer)],
  [1, commandsOf(withdraw)],
  [16, commandsOf(claim)],
  [4, commandsOf(giveBack)],
  [7, commandsOf(hand)],
  [3, commandsOf(undoHand)],
  [4, commandsOf(walkUp)],
  [2, commandsOf(undoTaken)],
  [5, commandsOf(graft)],
  [2, commandsOf(undoGraft)],
  [1, commandsOf(hold)],
  [3, commandsOf(release)],
  [1, commandsOf(finish)],
  [2, commandsOf(open)],
  [7, sendAgain],
]

/** Every run starts with wood on offer, or most commands would find nothing to act on. */
const start = fc.constantFrom<readonly (readonly [sticks: number, shares: number])[]>([
  [9, 4],
  [6, 3],
  [12, 4],
])

const replayPath = process.env['TALLYWOOD_REPLAY']
const seed = process.env['TALLYWOOD_SEED']
const path = process.env['TALLYWOOD_PATH']

const commands = fc.commands<Model, Real, false>(
  weighted.flatMap(([weight, command]) => Array.from({ length: weight }, () => command)),
  { maxCommands: longest, size: 'max', ...(replayPath === undefined ? {} : { replayPath }) },
)

async function stock(model: Model, real: Real, lots: readonly (readonly [number, number])[]): Promise<void> {
  for (const [limb, [sticks, shares]] of lots.entries()) {
    await firstOf(commandsOf({ ...cut, args: fc.constant({ actor: 0, cutter: 0, limb, sticks }) })).run(
      model,
      real,
    )
    const args = fc.constant({ actor: 0, swap: limb % 2, lot: limb, sticksPerShare: 2, shares })
    await firstOf(commandsOf({ ...offer, args })).run(model, real)
  }
}

function firstOf(arbitrary: fc.Arbitrary<Command>): Command {
  const [command] = fc.sample(arbitrary, 1)
  if (!command) throw new Error('Nothing was drawn')
  return command
}

describe('the ledger against a model of it', () => {
  test(
    'agrees after whatever several people do, and refuses what the model refuses',
    async () => {
      const counts = { commands: 0, accepted: 0, refused: 0 }
      const property = fc.asyncProperty(start, commands, async (lots, sequence) => {
        const { model, real } = await makeRun(database.db, counts)
        await stock(model, real, lots)
        await fc.asyncModelRun(() => ({ model, real }), sequence)
        expect(await verifyLedger(database.db, real.groupId)).toEqual([])
      })
      const outcome = await fc.check(property, {
        numRuns: runs,
        interruptAfterTimeLimit: limitMs,
        ...(seed === undefined ? {} : { seed: Number(seed) }),
        ...(path === undefined ? {} : { path }),
      })
      if (outcome.failed) {
        const { errorInstance } = outcome
        const why = errorInstance instanceof Error ? errorInstance.message : String(errorInstance)
        throw new Error(
          `${why}\n\n${fc.defaultReportMessage(outcome)}\n\nThe same again: TALLYWOOD_SEED=${outcome.seed} TALLYWOOD_PATH=${outcome.counterexamplePath} TALLYWOOD_REPLAY=<replayPath above> npx vitest run --project integration tests/integration/ledger/model`,
        )
      }
      if (path === undefined) expect(counts.commands).toBeGreaterThan(fewest)
      expect(counts.accepted).toBeGreaterThan(counts.commands / 4)
      expect(counts.refused).toBeGreaterThan(counts.commands / 10)
    },
    limitMs * 4,
  )

  test('is told when one stick of the model is somewhere else', async () => {
    const { model, real } = await makeRun(database.db, { commands: 0, accepted: 0, refused: 0 })
    await stock(model, real, [[9, 4]])
    await compare(model, real)
    const [lot] = model.lots
    if (!lot) throw new Error('A lot was cut')
    model.move(lot, 'store', 'lost', 1)
    await expect(compare(model, real)).rejects.toThrow('Ledger and model differ')
  })
})
