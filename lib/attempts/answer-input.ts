import { z } from 'zod'
import { causesOfFailure, lookFields, ownWordsCause } from '#lib/attempts/input.ts'
import { onceKey, optionalText, optionalWholeNumber } from '#lib/kernel/form-values.ts'

/** The answers that one tap gives. */
export const answers = ['all', 'some', 'none', 'not-attempted', 'cannot-tell'] as const
export type Answer = (typeof answers)[number]

export const findAnswer = (text: unknown): Answer | null => answers.find((answer) => answer === text) ?? null

const causeKeys: readonly string[] = causesOfFailure.map(({ key }) => key)

/** What somebody says through the link of a reminder. */
export const AnswerByLinkInput = z
  .object({
    key: onceKey,
    token: z.string().max(200),
    say: z.enum(answers, { error: 'Choose the answer that fits best' }),
    alive: optionalWholeNumber({ min: 0, max: 10_000, message: 'Say how many are alive' }),
    dead: optionalWholeNumber({ min: 0, max: 10_000, message: 'Say how many are dead' }),
    state: lookFields.state,
    cause: z.preprocess(
      (value) => (value === '' ? undefined : value),
      z
        .string()
        .refine((key) => causeKeys.includes(key), { error: 'Choose a cause of the list' })
        .optional(),
    ),
    words: optionalText(200),
    note: optionalText(2000),
  })
  .check(({ value, issues }) => {
    if (value.say === 'some' && value.alive === undefined && value.dead === undefined) {
      const message = 'Say how many are alive, or how many are dead'
      issues.push({ code: 'custom', path: ['alive'], message, input: value.alive })
    }
    if (value.cause === ownWordsCause && value.words === undefined) {
      issues.push({ code: 'custom', path: ['words'], message: 'Say in your words what it was', input: '' })
    }
  })
export type AnswerByLinkInput = z.output<typeof AnswerByLinkInput>

export interface AnsweredCounts {
  readonly alive: number
  readonly dead: number
  readonly unknown: number
}

/**
 * An answer as counts of a batch of `pieces`. Of “some”, what is named neither alive nor dead is not known when both
 * were named; with one of them alone, the others are the other. Counts may come to more than `pieces`: that is for
 * the record to refuse.
 */
export function countsOf(
  answer: { readonly say: Answer; readonly alive?: number | undefined; readonly dead?: number | undefined },
  pieces: number,
): AnsweredCounts {
  switch (answer.say) {
    case 'all':
      return { alive: pieces, dead: 0, unknown: 0 }
    case 'none':
      return { alive: 0, dead: pieces, unknown: 0 }
    case 'not-attempted':
    case 'cannot-tell':
      return { alive: 0, dead: 0, unknown: pieces }
    case 'some': {
      const alive = answer.alive ?? Math.max(0, pieces - (answer.dead ?? 0))
      const dead = answer.dead ?? Math.max(0, pieces - alive)
      return { alive, dead, unknown: Math.max(0, pieces - alive - dead) }
    }
  }
}
