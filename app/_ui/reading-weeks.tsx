import { labelDay } from '#app/_ui/dates.ts'
import { type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import { type ReadingHour, weeksRead } from '#app/_ui/readings-layout.ts'
import { civilDateIn } from '#lib/kernel/civil-date.ts'

interface ReadingWeeksProps {
  readonly hours: readonly ReadingHour[]
  readonly unit: TemperatureUnit
  readonly timeZone: string
  readonly title: string
}

/** The chart in numbers, by week. */
export function ReadingWeeks({ hours, unit, timeZone, title }: ReadingWeeksProps) {
  const bare = (celsius: number) => temperature(celsius, unit).split(' ')[0]
  return (
    <details className="mt-2">
      <summary className="tap">The same as a table</summary>
      <div className="scroll">
        <table className="tbl dense">
          <caption className="vh">
            {title}, by week, in °{unit}
          </caption>
          <thead>
            <tr>
              <th scope="col">Week from</th>
              <th scope="col" className="r">
                Lowest
              </th>
              <th scope="col" className="r">
                Mean
              </th>
              <th scope="col" className="r">
                Highest
              </th>
              <th scope="col" className="r">
                Hours read
              </th>
            </tr>
          </thead>
          <tbody>
            {weeksRead(hours).map((week) => (
              <tr key={week.fromMs}>
                <th scope="row">{labelDay(civilDateIn(timeZone, new Date(week.fromMs)))}</th>
                <td className="r">{bare(week.low)}</td>
                <td className="r">{bare(week.mean)}</td>
                <td className="r">{bare(week.high)}</td>
                <td className="r">{week.hours} of 168</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  )
}
