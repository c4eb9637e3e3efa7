import { z } from 'zod'
import { normaliseDice } from '#lib/allotment/draw-faults.ts'
import { listFingerprint } from '#lib/allotment/list-fingerprint.ts'
import { type DrawInput, runDraw } from '#lib/allotment/run-draw.ts'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'

const text = z.string()
const whole = z.int()

const offering = z.object({
  lotCode: text,
  variety: text,
  shares: whole,
  sticksPerShare: whole,
  newcomerShares: whole,
  donorShares: whole,
})

const entrant = z.object({
  memberCode: text,
  wishes: z.array(text),
  isDonor: z.boolean(),
  isNewcomer: z.boolean(),
  held: z.array(z.object({ variety: text, shares: whole })),
})

const place = { lotCode: text, memberCode: text, ticket: text, number: text }

const publishedDraw = z.object({
  form: z.literal('tallywood draw 1'),
  fingerprint: text,
  dice: text,
  list: z.object({
    rules: z.object({ capPerMember: whole, capPerVariety: whole, ticketsPerDonor: whole }),
    offerings: z.array(offering),
    entrants: z.array(entrant),
  }),
  tickets: z.array(z.object({ ...place, place: whole, counts: z.boolean() })),
  allotments: z.array(
    z.object({ ...place, kind: z.enum(['open', 'newcomer', 'donor']), rank: whole, sticks: whole }),
  ),
  waiting: z.array(z.object({ ...place, place: whole, rank: whole, isCapFull: z.boolean() })),
})

/** A draw as it is published: list, fingerprint, dice and result, with member codes and no names. */
export type PublishedDraw = z.output<typeof publishedDraw>

export type PublishedDrawRefusal =
  | { readonly kind: 'not-json' }
  | { readonly kind: 'not-a-draw'; readonly where: string; readonly message: string }

/** Runs a draw and puts everything that others need to run it again beside it. */
export function publishDraw({ dice, ...list }: DrawInput): PublishedDraw {
  const { tickets, allotments, waiting } = runDraw({ dice, ...list })
  return {
    form: 'tallywood draw 1',
    fingerprint: listFingerprint(list),
    dice: normaliseDice(dice),
    list: {
      rules: list.rules,
      offerings: list.offerings.map(({ newcomerShares = 0, donorShares = 0, ...rest }) => ({
        ...rest,
        newcomerShares,
        donorShares,
      })),
      entrants: list.entrants.map(
        ({ isDonor = false, isNewcomer = false, held = [], wishes, memberCode }) => ({
          memberCode,
          wishes: [...wishes],
          isDonor,
          isNewcomer,
          held: [...held],
        }),
      ),
    },
    tickets: [...tickets],
    allotments: [...allotments],
    waiting: [...waiting],
  }
}

/** The published file as text: JSON, two spaces deep, with a line feed at its end. */
export const publishedDrawText = (draw: PublishedDraw): string => `${JSON.stringify(draw, null, 2)}\n`

/** Reads a published file. What it says is not believed by this: `verifyDraw` looks at that. */
export function readPublishedDraw(json: string): Result<PublishedDraw, PublishedDrawRefusal> {
  let value: unknown
  try {
    value = JSON.parse(json)
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error
    return refuse({ kind: 'not-json' })
  }
  const parsed = publishedDraw.safeParse(value)
  if (parsed.success) return ok(parsed.data)
  const [issue] = parsed.error.issues
  return refuse({
    kind: 'not-a-draw',
    where: issue?.path.join('.') ?? '',
    message: issue?.message ?? 'not understood',
  })
}
