import { VarietyName } from '#app/_ui/name.tsx'
import { Section } from '#app/_ui/section.tsx'
import { type OutcomeLine, OutcomeTable } from '#app/g/[group]/results/_parts/outcome-table.tsx'
import { differenceWords, sideWords } from '#app/g/[group]/results/_parts/rate-words.ts'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import type { MethodResult, Results, ResultsSide, VarietyResult } from '#lib/results/results.ts'

interface ResultsSideProps {
  readonly side: ResultsSide
  readonly results: Results
}

const titles = {
  grafts: { variety: 'Grafts that took, by variety', method: 'Grafts that took, by method' },
  rooting: { variety: 'Cuttings that rooted, by variety', method: 'Cuttings that rooted, by method' },
} as const

const varietyLine = (row: VarietyResult): OutcomeLine => ({
  key: row.varietyId,
  label: (
    <>
      <VarietyName name={row.varietyName} /> <span className="soft">{cropWord(row.commonName)}</span>
    </>
  ),
  row,
})

const methodLines = (row: MethodResult): readonly OutcomeLine[] => [
  { key: row.method, label: <b>{row.methodName}</b>, row },
  ...row.treatments.map((treatment) => ({
    key: `${row.method} ${treatment.treatment ?? ''}`,
    label: treatment.treatment ?? <span className="soft">nothing noted</span>,
    row: treatment,
    isUnder: true,
  })),
]

/** Grafts, or cuttings and layers: by variety and by method. Nothing when there are none. */
export function ResultsOfSide({ side, results }: ResultsSideProps) {
  const byVariety = results.byVariety[side]
  const byMethod = results.byMethod[side]
  if (byVariety.rows.length === 0) return null
  const { did } = sideWords[side]
  return (
    <>
      <Section title={titles[side].variety} id={`${side}-variety`}>
        <p className="note">By crop, then by name: the order says nothing about the rate.</p>
        <OutcomeTable
          side={side}
          caption={`${titles[side].variety}: of those whose outcome is known, how many ${did}`}
          first="Variety"
          lines={byVariety.rows.map(varietyLine)}
          total={byVariety.total}
        />
        <InWords text={differenceWords(byVariety, (row) => `‘${row.varietyName}’`)} />
      </Section>
      <Section title={titles[side].method} id={`${side}-method`}>
        <p className="note">
          {side === 'rooting' && 'Layers are counted with the cuttings. '}Treatments stand beneath their
          method.
        </p>
        <OutcomeTable
          side={side}
          caption={`${titles[side].method}: of those whose outcome is known, how many ${did}`}
          first="Method"
          lines={byMethod.rows.flatMap(methodLines)}
          total={byMethod.total}
        />
        <InWords text={differenceWords(byMethod, (row) => row.methodName.toLowerCase())} />
        <p className="in-words read">Growers chose the method, so part may be who did it.</p>
      </Section>
    </>
  )
}

function InWords({ text }: { readonly text: string | null }) {
  if (text === null) return null
  return (
    <p className="in-words read">
      <b>In words.</b> {text}
    </p>
  )
}
