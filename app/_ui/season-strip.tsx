import { useId } from 'react'
import {
  clampPercent,
  dayScale,
  monthsOn,
  narrowest,
  percent,
  placeLabel,
  textWidth,
} from '#app/_ui/chart-scale.ts'
import { dayMonth, labelDay, monthName, weekday } from '#app/_ui/dates.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

interface SeasonBar {
  readonly label: string
  readonly from: CivilDate
  readonly to: CivilDate
}

interface SeasonStripProps {
  /** The first day shown and the first day after. */
  readonly from: CivilDate
  readonly to: CivilDate
  readonly today: CivilDate
  readonly swap?: CivilDate | null
  readonly bars: readonly SeasonBar[]
  readonly id?: string
}

const rowHeight = 31
const firstRow = 24

/** The year's work as bars, with today and the swap; what is on today is bold. */
export function SeasonStrip({ from, to, today, swap = null, bars, id }: SeasonStripProps) {
  const generated = useId()
  const base = id ?? generated
  const scale = dayScale(from, to)
  const bottom = firstRow + bars.length * rowHeight + 4
  const shown = (day: CivilDate) => scale(day) >= 0 && scale(day) <= 100
  const swapAt = swap && shown(swap) ? scale(swap) : null
  const todayAt = shown(today) ? scale(today) : null
  const said = [
    ...bars.map((bar) => `${bar.label}: ${dayMonth(bar.from)} to ${dayMonth(bar.to)}.`),
    `Today is ${weekday(today)}.`,
    ...(swap ? [`The swap is ${weekday(swap)}.`] : []),
  ].join(' ')
  return (
    <figure className="fig">
      <svg role="img" aria-labelledby={`${base}t ${base}d`} width="100%" height={bottom + 26}>
        <title id={`${base}t`}>{`The season, ${labelDay(from)} to ${labelDay(to)}`}</title>
        <desc id={`${base}d`}>{said}</desc>
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of drawings takes no focus */}
        <g aria-hidden="true">
          {monthsOn(from, to).map((month) => (
            <Month key={month} month={month} at={scale(month)} bottom={bottom} />
          ))}
          {swapAt !== null && (
            <line className="swap" x1={percent(swapAt)} x2={percent(swapAt)} y1="18" y2={bottom + 20} />
          )}
          {todayAt !== null && (
            <line className="today" x1={percent(todayAt)} x2={percent(todayAt)} y1="18" y2={bottom + 4} />
          )}
          {bars
            .filter((bar) => bar.to >= from && bar.from <= to)
            .map((bar, i) => (
              <Bar
                key={bar.label}
                bar={bar}
                from={clampPercent(scale(bar.from))}
                to={clampPercent(scale(bar.to))}
                y={firstRow + i * rowHeight}
                isOn={bar.from <= today && today <= bar.to}
              />
            ))}
          <SeasonMarks todayAt={todayAt} swapAt={swapAt} swap={swap} y={bottom} />
        </g>
      </svg>
    </figure>
  )
}

interface MonthProps {
  readonly month: CivilDate
  readonly at: number
  readonly bottom: number
}

function Month({ month, at, bottom }: MonthProps) {
  return (
    <>
      <line className="grid" x1={percent(at)} x2={percent(at)} y1="18" y2={bottom} />
      {at <= 96 && (
        <>
          <text className="t-s t-soft wide-only" x={percent(at)} dx="3" y="13">
            {monthName(month)}
          </text>
          <text className="t-s t-soft phone-only" x={percent(at)} dx="3" y="13">
            {monthName(month).slice(0, 1)}
          </text>
        </>
      )}
    </>
  )
}

interface BarProps {
  readonly bar: SeasonBar
  readonly from: number
  readonly to: number
  readonly y: number
  readonly isOn: boolean
}

function Bar({ bar, from, to, y, isOn }: BarProps) {
  const width = textWidth(bar.label, 14, isOn)
  const startFits = (from / 100) * narrowest + width <= narrowest
  const endFits = (to / 100) * narrowest >= width
  const kept = placeLabel(from, width)
  const place = startFits
    ? { x: percent(from) }
    : endFits
      ? { x: percent(to), textAnchor: 'end' as const }
      : { x: percent(from), textAnchor: kept.textAnchor, dx: kept.dx }
  const mark = isOn ? 'dot' : 'idle'
  return (
    <>
      <text className={isOn ? 't-b' : undefined} y={y + 13} {...place}>
        {bar.label}
      </text>
      <rect className={mark} x={percent(from)} y={y + 18} width={percent(to - from)} height="8" />
      <svg aria-hidden="true" x={percent(to)} y={y + 18} overflow="visible">
        <path className={mark} d="M-.5 0h5L-.5 8z" />
      </svg>
    </>
  )
}

interface MarksProps {
  readonly todayAt: number | null
  readonly swapAt: number | null
  readonly swap: CivilDate | null
  readonly y: number
}

const flagWidth = 57

// The earlier of the two speaks to the left and the later one to the right, unless an edge is in the way.
function SeasonMarks({ todayAt, swapAt, swap, y }: MarksProps) {
  const words = swap ? `swap ${dayMonth(swap)}` : ''
  const wordsWidth = textWidth(words, 14, true) + 10
  const px = (at: number) => (at / 100) * narrowest
  const swapIsPast = swapAt !== null && todayAt !== null && swapAt < todayAt
  const flagRight =
    todayAt !== null && (swapIsPast || px(todayAt) < flagWidth) && px(todayAt) + flagWidth <= narrowest
  const swapLeft =
    swapAt !== null && ((swapIsPast && px(swapAt) >= wordsWidth) || px(swapAt) + wordsWidth > narrowest)
  return (
    <>
      {swapAt !== null && (
        <text
          className="t-dam"
          textAnchor={swapLeft ? 'end' : 'start'}
          x={percent(swapAt)}
          dx={swapLeft ? -7 : 7}
          y={y + 18}
        >
          {words}
        </text>
      )}
      {todayAt !== null && (
        <svg aria-hidden="true" x={percent(todayAt)} y={y + 3} overflow="visible">
          <path className="flag" d={flagRight ? 'M-1 0h58l-8 20H-1z' : 'M1 0h-57l8 20H1z'} />
          <text className="flag-t" textAnchor={flagRight ? 'start' : 'end'} x={flagRight ? 8 : -6} y="15">
            today
          </text>
        </svg>
      )}
    </>
  )
}
