import type { FormValues } from '#app/_ui/form/form-state.ts'
import type { TemperatureUnit } from '#app/_ui/measures.ts'
import { questionFields } from '#lib/wood/window-question.ts'

/** What an address says of each field, as text. A field that is there twice counts as it stood first. */
export function queryTexts(
  query: Readonly<Record<string, string | readonly string[] | undefined>>,
): Record<string, string> {
  const texts: Record<string, string> = {}
  for (const name of questionFields) {
    const text = [query[name]].flat()[0]
    if (text !== undefined && text.trim() !== '') texts[name] = text
  }
  return texts
}

/** Somebody who writes °F reads °F. */
export const unitOf = (texts: FormValues): TemperatureUnit =>
  /\d\s*°?\s*F\b/i.test(`${texts['celsius'] ?? ''}\n${texts['history'] ?? ''}`) ? 'F' : 'C'

/** The part of an address after the question mark. */
export const addressOf = (texts: Readonly<Record<string, string>>): string =>
  new URLSearchParams({ ...texts }).toString()
