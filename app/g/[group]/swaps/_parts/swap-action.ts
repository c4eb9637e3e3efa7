import { z } from 'zod'
import { memberAction } from '#app/_actions/member-action.ts'
import type { FormAction } from '#app/_ui/form/form-state.ts'
import type { Actor } from '#lib/access/actor.ts'
import { optionalUuid, uuidField } from '#lib/kernel/form-values.ts'
import { ok, type Result } from '#lib/kernel/result.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { swapsRefusalWords } from '#lib/swaps/refusal-words.ts'
import type { SwapsRefusal } from '#lib/swaps/refusals.ts'

const placeFields = z.object({ swap: uuidField('Choose a swap'), member: optionalUuid() })

/** The page on which a form of a swap stands: of which swap, and where it matters of which person. */
export type FormPlace = z.output<typeof placeFields>

interface SwapActionOptions<Input, Value> {
  readonly input: z.ZodType<Input>
  readonly command: (db: Database, actor: Actor, input: Input) => Promise<Result<Value, SwapsRefusal>>
  /** The page that follows, out of what the form carried along. */
  readonly to: (slug: string, place: FormPlace, value: Value) => string
}

/** A server action of a swap's page, which leads back to a page of the same swap. */
export function swapAction<Input, Value>(options: SwapActionOptions<Input, Value>): FormAction {
  const input = z.intersection(options.input, placeFields)
  return memberAction({
    input,
    command: async (db: Database, actor: Actor, sent: z.output<typeof input>) => {
      const result = await options.command(db, actor, sent)
      return result.ok ? ok({ value: result.value, place: { swap: sent.swap, member: sent.member } }) : result
    },
    refusal: swapsRefusalWords,
    done: ({ value, place }, { slug }) => ({ to: options.to(slug, place, value) }),
  })
}
