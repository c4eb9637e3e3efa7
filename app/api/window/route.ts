import { caution, keepsWords, sticksWords, swapWords } from '#app/(public)/window/_parts/answer-words.ts'
import { queryTexts, unitOf } from '#app/(public)/window/_parts/question-words.ts'
import { sayLengthening } from '#app/g/[group]/wood/_parts/say-window.ts'
import { publicContext } from '#lib/access/context.ts'
import { storageSources } from '#lib/viability/storage-sources.ts'
import type { WindowAnswer } from '#lib/wood/answer-window.ts'
import { askWindow } from '#lib/wood/ask-window.ts'

export const dynamic = 'force-dynamic'

// Anybody may ask from any page: nothing here belongs to anybody.
const headers = { 'Access-Control-Allow-Origin': '*', 'Cache-Control': 'public, max-age=300' }

/** What the page of the calculator says, for the same question. */
function asData(answer: WindowAnswer, texts: Readonly<Record<string, string>>) {
  const { window, evidence, profile, lengthening, sticks } = answer
  const unit = unitOf(texts)
  return {
    question: texts,
    profile: profile.key,
    cut: answer.cutOn,
    today: answer.today,
    window: { early: window.early, likely: window.likely, late: window.late },
    days: answer.days,
    limitedBy: window.limitedBy,
    state: window.state,
    used: answer.used,
    flags: window.flags,
    swap: answer.swap,
    lengthening,
    sticks,
    words: [
      keepsWords(answer),
      ...swapWords(answer, unit),
      ...(lengthening ? [sayLengthening(lengthening, unit)] : []),
      ...(sticks === null ? [] : [sticksWords(sticks, texts['rate'] ?? '')]),
    ],
    evidence: {
      grade: evidence.grade,
      basis: evidence.basis,
      sources: evidence.sources.map((key) => storageSources[key]),
    },
    caution,
  }
}

/** How long wood keeps, asked by the address alone. */
export function GET(request: Request): Response {
  const texts = queryTexts(Object.fromEntries(new URL(request.url).searchParams))
  const asked = askWindow(texts, publicContext().db.now())
  return asked.ok
    ? Response.json(asData(asked.value, texts), { headers })
    : Response.json({ errors: asked.refusal.fields }, { status: 400, headers })
}
