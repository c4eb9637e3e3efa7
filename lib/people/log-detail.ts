import { formatEpithet } from '#lib/grafting/cultivar-name.ts'
import { parseCivilDate } from '#lib/kernel/civil-date.ts'
import { dayWords } from '#lib/people/day-words.ts'

/**
 * The part of an entry's detail that a reader of the log wants: which limb, from what to what, on which day and
 * why. Keys that it does not know are left out.
 */
export function logDetail(detail: unknown): string {
  if (typeof detail !== 'object' || detail === null) return ''
  const known = new Map(Object.entries(detail))
  const text = (key: string) => {
    const value: unknown = known.get(key)
    return typeof value === 'string' && value !== '' ? value : null
  }
  const day = (key: string) => {
    const date = parseCivilDate(text(key) ?? '')
    return date && dayWords(date)
  }
  const named = (key: string) => {
    const name = text(key)
    return name === null ? 'no name' : formatEpithet(name)
  }
  const mark = text('mark')
  const from = text('from')
  const to = text('to')
  return [
    mark && `limb ${mark}`,
    from && to && `from ${from} to ${to}`,
    known.has('nameBefore') && `from ${named('nameBefore')} to ${named('name')}`,
    day('goneOn') ?? day('leftOn'),
    text('reason'),
  ]
    .filter(Boolean)
    .join('; ')
}
