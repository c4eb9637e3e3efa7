import type {
  DiameterBand,
  LotKind,
  MoveKind,
  Packaging,
  StoreKind,
  ToolCare,
} from '#lib/platform/generated/enums.ts'

/** A value of a list and how it is said. */
export interface Choice<Value> {
  readonly value: Value
  readonly label: string
  readonly note?: string
}

export const lotKinds: readonly Choice<LotKind>[] = [
  { value: 'scion_wood', label: 'Scion wood', note: 'dormant one-year sticks, to graft' },
  { value: 'hardwood_cuttings', label: 'Hardwood cuttings', note: 'dormant sticks, to root' },
  { value: 'budwood', label: 'Budwood', note: 'cut in leaf, for summer budding' },
  { value: 'rooted_plants', label: 'Rooted plants', note: 'counted one by one' },
]

export const diameterBands: readonly Choice<DiameterBand>[] = [
  { value: 'pencil', label: 'About a pencil', note: '6 to 9 mm' },
  { value: 'thin', label: 'Thinner', note: 'under 6 mm' },
  { value: 'thick', label: 'Thicker', note: 'over 9 mm' },
  { value: 'mixed', label: 'Mixed' },
]

export const packagings: readonly Choice<Packaging>[] = [
  { value: 'sealed_damp', label: 'Sealed bag with damp paper' },
  { value: 'sealed_bag', label: 'Sealed bag, nothing in it' },
  { value: 'waxed_sealed', label: 'Waxed ends, sealed bag' },
  { value: 'open_bag', label: 'Open bag' },
  { value: 'paper', label: 'Damp paper or sacking' },
  { value: 'bare', label: 'Bare' },
]

export const storeKinds: readonly Choice<StoreKind>[] = [
  { value: 'fridge', label: 'Fridge' },
  { value: 'cellar', label: 'Cellar' },
  { value: 'shed', label: 'Shed or garage' },
  { value: 'outdoors', label: 'Outdoors, heeled in or against a wall' },
  { value: 'indoors', label: 'Room in a house' },
]

export const toolCares: readonly Choice<ToolCare>[] = [
  { value: 'wiped_between_trees', label: 'Yes, between trees' },
  { value: 'wiped_once', label: 'Only before starting' },
  { value: 'not_wiped', label: 'No' },
  { value: 'not_noted', label: 'Not sure' },
]

/** What people see of a bud, with the stage of the BBCH scale that it is kept as (Meier et al., pome and stone fruit). */
export const budStages: readonly Choice<number>[] = [
  { value: 0, label: 'Tight', note: 'closed, dormant' },
  { value: 1, label: 'First swell', note: 'plump, scales paler or just moving' },
  { value: 3, label: 'End of swell', note: 'scales parting; keeps badly' },
  { value: 7, label: 'Green tip', note: 'too late to store; use within days' },
]

/** From this stage on wood is recorded with a caution: it wakes in a fridge, and keeps for days rather than months. */
export const wakingBudStage = 3

const labelIn = <Value>(choices: readonly Choice<Value>[], value: Value): string =>
  choices.find((choice) => choice.value === value)?.label ?? String(value)

export const lotKindWord = (kind: LotKind): string => labelIn(lotKinds, kind)
export const diameterWord = (band: DiameterBand): string => labelIn(diameterBands, band)
export const packagingWord = (packaging: Packaging): string => labelIn(packagings, packaging)
export const storeKindWord = (kind: StoreKind): string => labelIn(storeKinds, kind)

/** "tight, 00": the plain word and the two figures of the scale. A stage between two of ours gets the lower word. */
export function budStageWord(stage: number): string {
  const plain = budStages.findLast(({ value }) => value <= stage) ?? budStages[0]
  return `${plain?.label.toLowerCase() ?? ''}, ${String(stage).padStart(2, '0')}`
}

const toolCareSentences: Record<ToolCare, string> = {
  wiped_between_trees: 'shears wiped between trees',
  wiped_once: 'shears wiped before starting only',
  not_wiped: 'shears not wiped',
  not_noted: 'nobody noted whether the shears were wiped',
}

export const toolCareWords = (care: ToolCare): string => toolCareSentences[care]

const moveWords: Record<MoveKind, string> = {
  cut: 'Cut',
  promise: 'Claimed',
  release: 'Claim given back',
  hand_over: 'Handed over',
  walk_up: 'Taken from the table',
  post: 'Posted',
  arrive: 'Arrived by post',
  use: 'Used',
  destroy: 'Destroyed',
  lose: 'Lost',
  bring_back: 'Brought back',
  reversal: 'Corrected',
  split: 'Split',
}

export const moveWord = (kind: MoveKind): string => moveWords[kind]
