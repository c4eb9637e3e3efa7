import { batchName } from '#lib/attempts/batch-name.ts'
import { checkpointQuestions } from '#lib/grafting/checkpoints.ts'
import { formatCode } from '#lib/grafting/codes.ts'
import { formatEpithet } from '#lib/grafting/cultivar-name.ts'
import { assertNever } from '#lib/kernel/assert.ts'
import { dayWords } from '#lib/people/day-words.ts'
import type { Need, WoodInNeed } from '#lib/week/need.ts'

const some = (count: number, one: string, many = `${one}s`) => `${count} ${count === 1 ? one : many}`

/** As many lots as a line names. */
const named = 4

function woodWords(wood: readonly WoodInNeed[]): string {
  const names = wood
    .slice(0, named)
    .map(
      ({ code, varietyName }) =>
        `${varietyName === null ? '' : `${formatEpithet(varietyName)} `}${formatCode(code)}`,
    )
  const rest = wood.length - names.length
  return `${names.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}`
}

/** What waits for somebody, as a line of a mail. */
export function needWords(need: Need): string {
  const when = need.by === null ? '' : `${need.isLate ? 'Since' : 'By'} ${dayWords(need.by)}: `
  return `${when}${said(need)}`
}

function said(need: Need): string {
  switch (need.kind) {
    case 'claims-will-open':
      return `claims for ${need.swap.name} open.`
    case 'claims-close':
      return `claims for ${need.swap.name} close; you have claimed ${some(need.sticks, 'stick')}.`
    case 'open-the-swap':
      return `open ${need.swap.name}: nobody can claim until then.`
    case 'collect':
      return `${some(need.sticks, 'stick')} promised to you at ${need.swap.name}.`
    case 'hand-over':
      return `hand over ${some(need.sticks, 'stick')} for ${some(need.people, 'person', 'people')} at ${need.swap.name}.`
    case 'finish-the-swap':
      return `finish ${need.swap.name}: everything promised was handed over.`
    case 'wood-near-limit':
      return `near its likely limit, and free: ${woodWords(need.wood)}.`
    case 'wood-in-hand':
      return `with you and not used yet: ${woodWords(need.wood)}.`
    case 'wood-without-name':
      return `without a name: ${woodWords(need.wood)}.`
    case 'look':
      return `${batchName(need.due.attempt)}. ${checkpointQuestions[need.due.look.name]}`
    case 'more-looks':
      return `${some(need.count, 'more batch has', 'more batches have')} a look due.`
    case 'care':
      return careWords(need)
    case 'holds':
      return `${some(need.holds.length, 'health hold is', 'health holds are')} open.`
    case 'disease-reported':
      return `${need.growerName} reported disease on ${need.pieces} of ${formatEpithet(need.varietyName)}.`
    case 'not-joined':
      return `${some(need.people, 'person is', 'people are')} invited and not here yet.`
    default:
      return assertNever(need)
  }
}

function careWords({ title, isStrong, batches }: Extract<Need, { kind: 'care' }>): string {
  const [first] = batches
  const whose = batches.length === 1 && first ? batchName(first) : some(batches.length, 'batch', 'batches')
  return `${isStrong ? 'it may strangle: ' : ''}${title.toLowerCase()}, ${whose}.`
}
