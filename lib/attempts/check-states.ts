import type { CheckpointKey } from '#lib/grafting/checkpoints.ts'

/** How the living pieces of a batch stand at a look. */
export interface CheckState {
  readonly key: string
  readonly label: string
  /** The looks at which it is an answer. */
  readonly at: readonly CheckpointKey[]
}

/** What can be said of the living, besides how many. */
const checkStates = [
  { key: 'green', label: 'Green, the buds not moving yet', at: ['thirty-days'] },
  { key: 'moving', label: 'The buds are moving', at: ['thirty-days'] },
  { key: 'growing', label: 'Growing', at: ['ninety-days', 'leaf-fall'] },
  { key: 'stalled', label: 'Opened, then stalled', at: ['ninety-days', 'leaf-fall'] },
  { key: 'callused', label: 'Callus has formed', at: ['callused', 'rooted'] },
  { key: 'no-callus', label: 'No callus yet', at: ['callused'] },
  { key: 'rooted', label: 'Rooted', at: ['rooted', 'callused'] },
  { key: 'potted', label: 'Potted, and growing', at: ['potted'] },
  { key: 'not-potted', label: 'Not potted yet', at: ['potted'] },
  { key: 'established', label: 'Established', at: ['established'] },
  { key: 'weak', label: 'Alive, but weak', at: ['established', 'second-spring'] },
  { key: 'in-leaf', label: 'In leaf again', at: ['second-spring', 'established'] },
  { key: 'fruited', label: 'It has fruited', at: ['first-fruit'] },
  { key: 'no-fruit', label: 'No fruit yet', at: ['first-fruit'] },
  { key: 'sound', label: 'Sound', at: ['later-failure'] },
  { key: 'declining', label: 'Declining, or the union swells or cracks', at: ['later-failure'] },
] as const satisfies readonly CheckState[]

/** The answers that fit a look. */
export const statesAt = (checkpoint: string): readonly CheckState[] =>
  checkStates.filter(({ at }) => (at as readonly string[]).includes(checkpoint))

export const findCheckState = (key: string | null): CheckState | null =>
  checkStates.find((state) => state.key === key) ?? null
