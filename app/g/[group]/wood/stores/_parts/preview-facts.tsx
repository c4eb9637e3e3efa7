import { instantWords } from '#app/_ui/dates.ts'
import { Facts } from '#app/_ui/facts.tsx'
import { counted, type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import { Section } from '#app/_ui/section.tsx'
import type { ReadingsPreview } from '#lib/wood/preview-readings.ts'
import type { StoreView } from '#lib/wood/store-queries.ts'

interface PreviewProps {
  readonly store: StoreView
  readonly preview: ReadingsPreview
  readonly unit: TemperatureUnit
}

const daysSaid = { dmy: 'day before month', mdy: 'month before day', iso: 'year first' } as const

/** What is in a waiting file, counted. */
export function PreviewFacts({ store, preview, unit }: PreviewProps) {
  const { span, readAs, rows, fresh, already, repeated, doubled } = preview
  const at = (instant: Date) => instantWords(instant, store.timeZone, store.today)
  return (
    <Facts
      items={[
        ['Rows below the heading', String(rows)],
        ['Readings to import', String(fresh)],
        already > 0 && ['In the store already', `${already}, left as they are`],
        repeated > 0 && ['Said twice in the file', `${repeated}, counted once`],
        span && ['From', at(span.from)],
        span && ['To', at(span.to)],
        span && [
          'Lowest, middle, highest',
          `${temperature(span.lowest, unit)}, ${temperature(span.median, unit)}, ${temperature(span.highest, unit)}`,
        ],
        doubled > 0 && [
          'When the clocks went back',
          `${counted(doubled, 'time')} shown twice, told apart by the order of the rows`,
        ],
        [
          'Read as',
          `time from “${readAs.timeHeading}”${readAs.days ? `, ${daysSaid[readAs.days]}` : ''}; temperature from “${readAs.temperatureHeading}”${readAs.unit ? ` in °${readAs.unit}` : ''}`,
        ],
      ]}
    />
  )
}

const faultsShown = 50
const gapsShown = 30

/** Rows that are left out, and times without a reading. */
export function PreviewTrouble({ store, preview }: Omit<PreviewProps, 'unit'>) {
  const { faults, gaps } = preview
  const at = (instant: Date) => instantWords(instant, store.timeZone, store.today)
  const hours = (from: Date, to: Date) =>
    counted(Math.round((to.getTime() - from.getTime()) / 3_600_000), 'hour')
  return (
    <>
      {faults.length > 0 && (
        <Section id="faults" title={`${counted(faults.length, 'row')} left out`}>
          <div className="scroll">
            <table className="tbl dense">
              <caption className="vh">Rows that are not imported, and why</caption>
              <thead>
                <tr>
                  <th scope="col" className="r">
                    Line
                  </th>
                  <th scope="col">Column</th>
                  <th scope="col">Why</th>
                </tr>
              </thead>
              <tbody>
                {faults.slice(0, faultsShown).map(({ line, column, why }) => (
                  <tr key={`${line} ${column} ${why}`}>
                    <th scope="row" className="r">
                      {line}
                    </th>
                    <td>{column ?? 'the row'}</td>
                    <td className="whitespace-normal!">{why}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          {faults.length > faultsShown && (
            <p className="note">
              And {faults.length - faultsShown} more. If that is most of the file, see below how it was read.
            </p>
          )}
        </Section>
      )}
      {gaps.length > 0 && (
        <Section id="gaps" title={`${counted(gaps.length, 'gap')} of more than six hours`}>
          <ul className="rows">
            {gaps.slice(0, gapsShown).map(({ from, to }) => (
              <li key={from.getTime()}>
                {at(from)} to {at(to)} <span className="soft">({hours(from, to)})</span>
              </li>
            ))}
          </ul>
          {gaps.length > gapsShown && <p className="note">And {gaps.length - gapsShown} more.</p>}
          <p className="note">
            These times count as unread: wood that lay there is reckoned with what is assumed.
          </p>
        </Section>
      )}
    </>
  )
}
