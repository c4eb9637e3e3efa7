/** What a grower can say went wrong. */
export interface FailureCause {
  readonly key: string
  readonly label: string
  /** How the piece is counted. "Never grafted it" is a useful answer, and no failure of the wood or the method. */
  readonly countsAs: 'dead' | 'unknown'
  /** The health steward is told, because the cause may travel in wood. */
  readonly tellsHealthSteward: boolean
}

const died = { countsAs: 'dead', tellsHealthSteward: false } as const

/** The causes a report can name, in the order in which a form lists them. Common practice, no source. */
export const failureCauses = [
  { ...died, key: 'dried-wood', label: 'The wood had dried out' },
  { ...died, key: 'mould', label: 'Mould' },
  { ...died, key: 'woke-early', label: 'The buds woke before it was used' },
  { ...died, key: 'mismatch', label: 'The cuts did not meet' },
  { ...died, key: 'knock-or-animal', label: 'Knocked, or an animal' },
  { ...died, key: 'girdled', label: 'Strangled by a tie or a tag' },
  { ...died, key: 'heat-or-cold', label: 'Heat or cold' },
  { ...died, key: 'incompatible', label: 'Perhaps the two do not go together' },
  { ...died, key: 'disease', label: 'Disease', tellsHealthSteward: true },
  { ...died, key: 'cause-unknown', label: 'I do not know' },
  { key: 'not-attempted', label: 'Never grafted it', countsAs: 'unknown', tellsHealthSteward: false },
  {
    key: 'label-lost',
    label: 'The label is lost, so I cannot tell which it was',
    countsAs: 'unknown',
    tellsHealthSteward: false,
  },
] as const satisfies readonly FailureCause[]

export type FailureCauseKey = (typeof failureCauses)[number]['key']
