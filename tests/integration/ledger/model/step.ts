import fc from 'fast-check'
import type { Result } from '#lib/kernel/result.ts'
import { inputHash } from '#lib/platform/database/once.ts'
import { type Model, pick } from './state.ts'
import { compare, type Real } from './world.ts'

/** A refusal that would be true: its kind, and the figures that it has to give. */
export type TrueRefusal = { readonly kind: string } & Readonly<Record<string, unknown>>

type AnyRefusal = { readonly kind: string }

/**
 * What a step is about to do. `refusals` holds every reason there is to refuse it: with none it has to be accepted,
 * with several any one of them may be given.
 */
export interface Plan<Value> {
  readonly label: string
  readonly refusals: readonly TrueRefusal[]
  /** Sends the command; `isChanged` asks for other entries than the first time under the same key. */
  readonly send: (key: string, isChanged: boolean) => Promise<Result<Value, AnyRefusal>>
  /** What the command did, told to the model. */
  readonly apply: (value: Value) => void | Promise<void>
  /** What has to be the same in every later answer to the same key; left out for commands without a key. */
  readonly core?: (value: Value) => unknown
}

/** One kind of command: the numbers it draws, and what they mean in the present state. Null: nothing to do it to. */
export interface Step<Args, Value> {
  readonly name: string
  readonly args: fc.Arbitrary<Args>
  readonly plan: (model: Model, real: Real, args: Args) => Plan<Value> | null
}

const isTrue = (refusal: AnyRefusal, reasons: readonly TrueRefusal[]): boolean => {
  const given = refusal as Readonly<Record<string, unknown>>
  return reasons.some((reason) =>
    Object.entries(reason).every(([name, value]) =>
      typeof value === 'function' ? value(given[name]) === true : Object.is(given[name], value),
    ),
  )
}

async function carryOut<Value>(plan: Plan<Value>, model: Model, real: Real): Promise<void> {
  const key = real.db.newId()
  const result = await plan.send(key, false)
  real.counts.commands++
  if (result.ok) {
    if (plan.refusals.length > 0) {
      throw new Error(`${plan.label} was accepted, though: ${JSON.stringify(plan.refusals)}`)
    }
    real.counts.accepted++
    await plan.apply(result.value)
    const { core } = plan
    if (core) {
      model.sent.push({
        label: plan.label,
        again: (isChanged) => plan.send(key, isChanged),
        answer: core(result.value),
        core: (value) => core(value as Value),
      })
    }
  } else if (isTrue(result.refusal, plan.refusals)) {
    real.counts.refused++
  } else {
    throw new Error(
      `${plan.label} was refused with ${JSON.stringify(result.refusal)}; true were ${JSON.stringify(plan.refusals)}`,
    )
  }
  await compare(model, real)
}

/** A step as fast-check runs and shrinks it. */
export function commandsOf<Args, Value>(
  step: Step<Args, Value>,
): fc.Arbitrary<fc.AsyncCommand<Model, Real, false>> {
  return step.args.map((args) => ({
    check: () => true,
    run: async (model: Model, real: Real) => {
      const plan = step.plan(model, real, args)
      if (plan) await carryOut(plan, model, real)
    },
    toString: () => `${step.name} ${JSON.stringify(args)}`,
  }))
}

/** The same form once more: as it was, which changes nothing and answers the same, or with other entries. */
export const sendAgain: fc.Arbitrary<fc.AsyncCommand<Model, Real, false>> = fc
  .record({ which: fc.nat(999), isChanged: fc.boolean() })
  .map(({ which, isChanged }) => ({
    check: (model: Readonly<Model>) => model.sent.length > 0,
    run: async (model: Model, real: Real) => {
      const sent = pick(model.sent, which)
      if (!sent) return
      const result = (await sent.again(isChanged)) as Result<unknown, AnyRefusal>
      real.counts.commands++
      const said = JSON.stringify(result)
      if (isChanged) {
        if (result.ok || result.refusal.kind !== 'key-reused')
          throw new Error(`${sent.label}, other entries: ${said}`)
      } else if (!result.ok || inputHash(sent.core(result.value)) !== inputHash(sent.answer)) {
        throw new Error(`${sent.label}, sent twice: ${said}; at first ${JSON.stringify(sent.answer)}`)
      }
      await compare(model, real)
    },
    toString: () => `sent again ${JSON.stringify({ which, isChanged })}`,
  }))
