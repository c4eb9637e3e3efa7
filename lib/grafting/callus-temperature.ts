import type { FactBasis } from '#lib/grafting/methods.ts'
import type { StorageProfileKey } from '#lib/viability/storage-profiles.ts'

/** The temperatures at which wounds of a crop knit, °C, or at which its cuttings root. */
export interface CallusTemperature {
  readonly lowC: number
  readonly highC: number
  readonly basis: FactBasis
}

const growers: FactBasis = {
  source: 'Growers’ forum, callusing temperatures by crop (growers’ reports, no research)',
}
const fromMemory: FactBasis = { source: 'Hartmann & Kester, Plant Propagation (from memory, page not seen)' }

const grafts: Readonly<Partial<Record<StorageProfileKey, CallusTemperature>>> = {
  apple: { lowC: 4, highC: 18, basis: growers },
  peach_nectarine: { lowC: 16, highC: 27, basis: growers },
  apricot: { lowC: 20, highC: 23, basis: growers },
  walnut: { lowC: 24, highC: 27, basis: fromMemory },
  grape: { lowC: 24, highC: 27, basis: fromMemory },
}

const figBottomHeat: CallusTemperature = {
  lowC: 22,
  highC: 28,
  basis: {
    source:
      'Fig growers’ forum: about 25 °C at the base (growers’ reports; the span around it is an estimate)',
  },
}

/** Where a graft of a crop knits best, or a cutting of it roots; null when nothing was read about it. */
export function callusTemperature(
  crop: StorageProfileKey,
  kind: 'graft' | 'cutting' | 'layer',
): CallusTemperature | null {
  if (kind === 'graft') return grafts[crop] ?? null
  return kind === 'cutting' && crop === 'fig' ? figBottomHeat : null
}
