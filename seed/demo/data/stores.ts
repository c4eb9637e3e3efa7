import type { StoreKind } from '#lib/platform/generated/enums.ts'

interface StoreSeed {
  readonly key: string
  readonly name: string
  readonly kind: StoreKind
  /** Whose it is; none for a place that everybody uses. */
  readonly keeper?: string
  /** What somebody read off the dial, °C; nothing where nobody has looked. */
  readonly typedCelsius?: number
}

/** Where the Circle keeps its wood. A person's own store has their key. */
export const storeSeeds: readonly StoreSeed[] = [
  { key: 'group', name: 'Group fridge', kind: 'fridge', keeper: 'nell', typedCelsius: 2 },
  { key: 'shed', name: 'Marrow Lane shed', kind: 'shed' },
  { key: 'bed', name: 'Heeling-in bed, north side of the plot', kind: 'outdoors' },
  { key: 'wren', name: 'Wren’s home fridge', kind: 'fridge', keeper: 'wren', typedCelsius: 4 },
  { key: 'callum', name: 'Callum’s fridge', kind: 'fridge', keeper: 'callum' },
  { key: 'odile', name: 'Odile’s fridge', kind: 'fridge', keeper: 'odile' },
  { key: 'tobias', name: 'Tobias’s fridge', kind: 'fridge', keeper: 'tobias', typedCelsius: 5 },
  { key: 'idris', name: 'Idris’s garage fridge', kind: 'fridge', keeper: 'idris', typedCelsius: 3.5 },
  { key: 'samir', name: 'Samir’s fridge', kind: 'fridge', keeper: 'samir', typedCelsius: 5 },
  { key: 'joss', name: 'Joss’s garage', kind: 'shed', keeper: 'joss' },
  { key: 'maud', name: 'Maud’s cellar', kind: 'cellar', keeper: 'maud', typedCelsius: 7 },
  { key: 'fenna', name: 'Fenna’s dairy cellar', kind: 'cellar', keeper: 'fenna' },
  { key: 'greta', name: 'Greta’s larder', kind: 'indoors', keeper: 'greta', typedCelsius: 9 },
  { key: 'gethin', name: 'Gethin’s barn', kind: 'shed', keeper: 'gethin', typedCelsius: 6 },
]
