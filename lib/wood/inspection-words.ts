import type { InspectionDecision, MouldSeen, NickTest, ShrivelSeen } from '#lib/platform/generated/enums.ts'
import { budStageWord, type Choice } from '#lib/wood/words.ts'

export const conditions: readonly Choice<number>[] = [
  { value: 5, label: 'As on the day it was cut' },
  { value: 4, label: 'Good' },
  { value: 3, label: 'Fair', note: 'use it soon' },
  { value: 2, label: 'Poor', note: 'only with nothing better' },
  { value: 1, label: 'Spoilt' },
]

export const mouldPlaces: readonly Choice<MouldSeen>[] = [
  { value: 'none', label: 'None' },
  { value: 'wrapping', label: 'On the wrapping', note: 'wipe the sticks, change the paper' },
  { value: 'cut_ends', label: 'On the cut ends' },
  { value: 'bark', label: 'On the bark' },
  { value: 'buds', label: 'On the buds' },
]

export const shrivels: readonly Choice<ShrivelSeen>[] = [
  { value: 'none', label: 'No' },
  { value: 'slight', label: 'Slightly' },
  { value: 'clear', label: 'Clearly' },
]

export const nickTests: readonly Choice<NickTest>[] = [
  { value: 'green', label: 'Green', note: 'alive' },
  { value: 'brown', label: 'Brown', note: 'dead there' },
  { value: 'not_done', label: 'Not done' },
]

export const decisions: readonly Choice<InspectionDecision>[] = [
  { value: 'keep', label: 'Keep it' },
  { value: 'hold', label: 'Put it on hold', note: 'nothing is given from it until a steward releases it' },
  { value: 'reject', label: 'Destroy it', note: 'free sticks only; claims are given back first' },
]

/** What a look says, as far as words and flags need it. */
export interface Seen {
  readonly condition: number
  readonly mould: MouldSeen
  readonly shrivel: ShrivelSeen
  readonly budStage: number | null
  readonly nick: NickTest
}

/** What the next person must know of a lot before using it. */
export type InspectionFlag =
  | 'brown'
  | 'spoilt'
  | 'poor'
  | 'mould'
  | 'shrivelled'
  | 'buds-open'
  | 'buds-moving'

/** From this stage on buds show green, and wood is no longer kept as dormant wood. */
const openBudStage = 7
/** From this stage of the BBCH scale on shoots have ended their growth and buds rest again. */
const restingAgain = 91

/** The flags that a look raises, the gravest first. */
export function inspectionFlags({ condition, mould, shrivel, budStage, nick }: Seen): InspectionFlag[] {
  const stage = budStage !== null && budStage < restingAgain ? budStage : 0
  const flags: readonly (readonly [InspectionFlag, boolean])[] = [
    ['brown', nick === 'brown'],
    ['spoilt', condition === 1],
    ['poor', condition === 2],
    ['mould', mould !== 'none'],
    ['shrivelled', shrivel !== 'none'],
    ['buds-open', stage >= openBudStage],
    ['buds-moving', stage >= 1 && stage < openBudStage],
  ]
  return flags.filter(([, isRaised]) => isRaised).map(([flag]) => flag)
}

const flagWords: Readonly<Record<InspectionFlag, string>> = {
  brown: 'brown under the bark',
  spoilt: 'spoilt',
  poor: 'in poor condition',
  mould: 'mould',
  shrivelled: 'shrivelled',
  'buds-open': 'buds open',
  'buds-moving': 'buds moving',
}

/** "mould, shrivelled": the flags of a look in a few words; empty when there is nothing to say. */
export const inspectionFlagWords = (flags: readonly InspectionFlag[]): string =>
  flags.map((flag) => flagWords[flag]).join(', ')

const lower = <Value>(choices: readonly Choice<Value>[], value: Value): string =>
  choices.find((choice) => choice.value === value)?.label.toLowerCase() ?? String(value)

/** Everything a look says: "Good (4 of 5). No mould, bark not shrivelled, buds tight, 00, green under the bark." */
export function seenWords({ condition, mould, shrivel, budStage, nick }: Seen): string {
  const onTheWhole = conditions.find(({ value }) => value === condition)?.label ?? ''
  const parts = [
    mould === 'none' ? 'no mould' : `mould ${lower(mouldPlaces, mould)}`,
    shrivel === 'none' ? 'bark not shrivelled' : `bark ${lower(shrivels, shrivel)} shrivelled`,
    budStage === null ? 'buds not looked at' : `buds ${budStageWord(budStage)}`,
    nick === 'not_done' ? 'bark not nicked' : `${nick} under the bark`,
  ]
  const said = parts.join('; ')
  return `${onTheWhole} (${condition} of 5). ${said.charAt(0).toUpperCase()}${said.slice(1)}.`
}
