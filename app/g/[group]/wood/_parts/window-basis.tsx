import type { EvidenceGrade } from '#lib/viability/storage-profiles.ts'
import { storageSources } from '#lib/viability/storage-sources.ts'
import type { WindowFlag } from '#lib/viability/viability-window.ts'
import type { LotWindow } from '#lib/wood/window-of-lot.ts'

const flagWords: Record<WindowFlag, string> = {
  'unknown-group': 'This kind of plant is not in the storage table, so a cautious stand-in was used.',
  'no-store-recorded': 'Nobody has said where it was kept.',
  'gap-in-record': 'There is a gap in the storage record; it counts as a warm place.',
  'temperature-assumed': 'A temperature in its record is assumed, which makes the window wider.',
  'whereabouts-unknown': 'Nobody has said where it is now.',
  'inspect-after-frost': 'It may have been colder than it stands: look at the wood before you use it.',
  'too-cold-for-evergreen': 'Evergreen wood is hurt by a store as cold as this.',
  'packaging-not-recorded': 'Nobody has noted how it is packed: a sealed bag was assumed.',
  'buds-open-at-cut': 'Its buds were open when it was cut: it cannot be kept as dormant wood.',
  'ripening-fruit-nearby':
    'Ripening fruit in the same store gives off ethylene, which has hurt apple scions.',
  'watch-for-mould': 'Damp and sealed: look for mould now and then, it follows free water.',
  'outside-model-range': 'It was colder or warmer than the range that the model is made for.',
}

const basisWords: Record<LotWindow['evidence']['basis'], string> = {
  A: 'Temperatures logged, and a storage trial of this group of plants was found.',
  B: 'Temperatures read by somebody.',
  C: 'Partly assumed: a temperature, or how long this group of plants keeps.',
}

const gradeWords: Record<EvidenceGrade, string> = {
  good: 'Storage trials of this group of plants were found.',
  fair: 'Published advice, and little more, was found for this group of plants.',
  convention: 'No storage trial of this group of plants was found: its figures are our convention.',
}

/** What a window leans on and what it leaves out. */
export function WindowBasis({ window }: { readonly window: Pick<LotWindow, 'evidence' | 'flags'> }) {
  const { basis, grade, sources } = window.evidence
  return (
    <details>
      <summary>How this is worked out</summary>
      <div className="stack-s note">
        <p>
          From the day of cutting on three clocks run at the temperatures of its record: its food reserve, its
          buds on their way to opening, and the water that its packing lets out. The first to run down is the
          limit. It is done with cautious, likely and generous figures, so the three limits are an envelope,
          not a probability.
        </p>
        <p>
          {basisWords[basis]} {gradeWords[grade]}
        </p>
        <ul>
          {window.flags.map((flag) => (
            <li key={flag}>{flagWords[flag]}</li>
          ))}
        </ul>
        {sources.length > 0 && (
          <>
            <p>Sources for this group of plants:</p>
            <ul>
              {sources.map((source) => (
                <li key={source}>{storageSources[source].citation}</li>
              ))}
            </ul>
          </>
        )}
      </div>
    </details>
  )
}
