import type { ReactNode } from 'react'
import { RateAxis, RateDot } from '#app/_ui/rate-dot.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import {
  behindWords,
  chartRate,
  countWords,
  likelyWords,
  sideWords,
  worstBestWords,
} from '#app/g/[group]/results/_parts/rate-words.ts'
import type { OutcomeRow } from '#lib/results/outcome-rate.ts'
import type { ResultsSide } from '#lib/results/results.ts'

/** A row of the table; `isUnder` puts it beneath the one before it. */
export interface OutcomeLine {
  readonly key: string
  readonly label: ReactNode
  readonly row: OutcomeRow
  readonly isUnder?: boolean
}

interface OutcomeTableProps {
  readonly side: ResultsSide
  readonly caption: string
  /** What the first column names. */
  readonly first: string
  readonly lines: readonly OutcomeLine[]
  readonly total: OutcomeRow
}

const meanOf = ({ rate }: OutcomeRow) => (rate.kind === 'shown' ? rate.rate : null)

/** Rates with their counts: a table on a desk, a ruled list on a phone. */
export function OutcomeTable(props: OutcomeTableProps) {
  const mean = meanOf(props.total)
  const hidden = props.lines.filter(({ row, isUnder }) => row.rate.kind === 'not-enough' && !isUnder).length
  return (
    <>
      <div className="wide-only">
        <WideTable {...props} mean={mean} />
      </div>
      <div className="phone-only">
        <PhoneRows {...props} mean={mean} />
      </div>
      {hidden > 0 && mean !== null && (
        <p className="note">
          The total counts the rows with a rate. Rows with fewer than five known outcomes are kept out of it,
          so that nobody’s single graft can be read from it.
        </p>
      )}
    </>
  )
}

type WithMean = OutcomeTableProps & { readonly mean: number | null }

function WideTable({ side, caption, first, lines, total, mean }: WithMean) {
  return (
    <table className="tbl mid dense">
      <caption className="vh">{caption}</caption>
      <thead>
        <tr>
          <th scope="col">{first}</th>
          <th scope="col" className="r">
            {sideWords[side].head}
          </th>
          <th scope="col" className="r">
            Waiting
          </th>
          <th scope="col" className="r">
            Not known
          </th>
          <th scope="col" style={{ width: '38%' }}>
            <span className="vh">Rate</span>
            <RateAxis mean={mean} />
          </th>
          <th scope="col" className="r">
            Likely between
          </th>
          <th scope="col" className="r">
            Worst to best
          </th>
        </tr>
      </thead>
      <tbody>
        {lines.map(({ key, label, row, isUnder }) => (
          <tr key={key}>
            <th scope="row" className={isUnder ? 'whitespace-normal! pl-5!' : 'whitespace-normal!'}>
              {label}
              <br />
              <span className="note">{behindWords(row)}</span>
            </th>
            <td className="r">{countWords(row)}</td>
            <td className="r soft">{row.pending || ''}</td>
            <td className="r soft">{row.unknown || ''}</td>
            <td className="plot">
              <RateDot rate={chartRate(row)} mean={mean} />
            </td>
            <td className="r">{likelyWords(row)}</td>
            <td className="r soft">{worstBestWords(row)}</td>
          </tr>
        ))}
      </tbody>
      {mean !== null && (
        <tfoot>
          <tr>
            <th scope="row">All with a rate</th>
            <td className="r">{countWords(total)}</td>
            <td className="r">{total.pending || ''}</td>
            <td className="r">{total.unknown || ''}</td>
            <td />
            <td className="r">{likelyWords(total)}</td>
            <td className="r">{worstBestWords(total)}</td>
          </tr>
        </tfoot>
      )}
    </table>
  )
}

/** "31 of 36, 3 not known, 4 waiting". */
function phoneCounts(row: OutcomeRow): string {
  return [
    countWords(row),
    row.unknown > 0 && `${row.unknown} not known`,
    row.pending > 0 && `${row.pending} waiting`,
  ]
    .filter(Boolean)
    .join(', ')
}

function PhoneRows({ lines, total, mean, caption }: WithMean) {
  return (
    <section aria-label={caption}>
      <div className="fig" aria-hidden="true">
        <RateAxis mean={mean} />
      </div>
      <Rows>
        {lines.map(({ key, label, row, isUnder }) => (
          <li key={key} className={isUnder ? 'pl-5' : undefined}>
            <div className="flex flex-wrap items-baseline justify-between gap-x-2">
              <span>{label}</span>
              <span className="note nb">{phoneCounts(row)}</span>
            </div>
            <RateDot rate={chartRate(row)} mean={mean} />
            <p className="note">
              {row.rate.kind === 'shown' && `Likely between ${likelyWords(row)}`}
              {worstBestWords(row) && `, worst to best ${worstBestWords(row)}`}
              {row.rate.kind === 'shown' && '. '}
              {behindWords(row)}.
            </p>
          </li>
        ))}
        {mean !== null && (
          <li>
            <p className="total flex flex-wrap justify-between gap-x-2">
              <span>All with a rate</span>
              <span>{phoneCounts(total)}</span>
            </p>
          </li>
        )}
      </Rows>
    </section>
  )
}
