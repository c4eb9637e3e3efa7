import { type DayAxis, dayScale, labelStep, monthsOn, percent, textWidth } from '#app/_ui/chart-scale.ts'
import { dayMonth, monthName } from '#app/_ui/dates.ts'
import { type KeepingWindow, limitWords } from '#app/_ui/keeping-window.ts'
import { StickBand } from '#app/_ui/stick-band.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

interface AxisProps {
  /** The same for every row: make it once with `sharedAxis`. */
  readonly axis: DayAxis
  readonly today: CivilDate
  readonly swap?: CivilDate | null
}

interface MiniWindowProps extends AxisProps {
  readonly cut: CivilDate
  readonly window: KeepingWindow
  /** Pixels: 36 in a table, 26 in a catalogue. */
  readonly height?: number
}

const onAxis = (at: number) => at >= 0 && at <= 100

/** A window in a row, on the axis that all rows share. */
export function MiniWindow({ axis, today, swap = null, cut, window, height = 36 }: MiniWindowProps) {
  const scale = dayScale(axis.from, axis.to)
  const said = (limit: CivilDate) => limitWords(limit, { cut, window, today })
  const label = `Cut ${dayMonth(cut)}. Early ${said(window.early)}, likely ${said(window.likely)}, late ${said(window.late)}.`
  return (
    <svg className="mini" role="img" aria-label={label} width="100%" height={height}>
      {monthsOn(axis.from, axis.to).map((month) => (
        <line
          key={month}
          className="grid"
          x1={percent(scale(month))}
          x2={percent(scale(month))}
          y1="0"
          y2={height}
        />
      ))}
      {swap && onAxis(scale(swap)) && (
        <line className="swap" x1={percent(scale(swap))} x2={percent(scale(swap))} y1="0" y2={height} />
      )}
      <StickBand
        cut={scale(cut)}
        early={scale(window.early)}
        likely={scale(window.likely)}
        late={scale(window.late)}
        y={(height - 12) / 2}
        height={12}
        stroke={1}
      />
      {onAxis(scale(today)) && (
        <line className="today" x1={percent(scale(today))} x2={percent(scale(today))} y1="0" y2={height} />
      )}
    </svg>
  )
}

// The narrowest column that a row of windows is given.
const columnWidth = 190

interface AxisWord {
  readonly word: 'today' | 'swap'
  readonly at: number
}

/** The head of a column of windows: months, today, the swap. */
export function MiniAxis({ axis, today, swap = null }: AxisProps) {
  const scale = dayScale(axis.from, axis.to)
  const months = monthsOn(axis.from, axis.to)
  const step = labelStep(months.length, 13, columnWidth)
  const words: AxisWord[] = [
    { word: 'today' as const, at: scale(today) },
    ...(swap ? [{ word: 'swap' as const, at: scale(swap) }] : []),
  ].filter((mark) => onAxis(mark.at))
  const rows = wordRows(words)
  const lift = rows.some((row) => row.line === 1) ? 14 : 0
  return (
    <svg className="mini" aria-hidden="true" focusable="false" width="100%" height={36 + lift}>
      {months
        .filter((month) => scale(month) <= 95)
        .map((month, i) => (
          <g key={month}>
            <line
              className="axis"
              x1={percent(scale(month))}
              x2={percent(scale(month))}
              y1={30 + lift}
              y2={36 + lift}
            />
            {i % step === 0 && (
              <text className="t-s t-soft" x={percent(scale(month))} dx="2" y={27 + lift}>
                {monthName(month).slice(0, 1)}
              </text>
            )}
          </g>
        ))}
      {rows.map(({ word, at, anchor, line }) => (
        <g key={word}>
          <text
            className={word === 'today' ? 't-s t-b' : 't-s t-dam'}
            textAnchor={anchor}
            x={percent(at)}
            dx={anchor === 'end' ? 1 : -2}
            y={11 + line * 14}
          >
            {word}
          </text>
          <line className={word} x1={percent(at)} x2={percent(at)} y1={15 + line * 14} y2={36 + lift} />
        </g>
      ))}
    </svg>
  )
}

// The earlier word stands left of its line and the later one right of it, so they part; at an edge they are stacked.
function wordRows(words: readonly AxisWord[]) {
  const inOrder = [...words].sort((a, b) => a.at - b.at)
  const wide = (mark: AxisWord) => (textWidth(mark.word, 13, true) / columnWidth) * 100
  const first = inOrder[0]
  const second = inOrder[1]
  if (!first) return []
  const firstAnchor = first.at >= wide(first) ? ('end' as const) : ('start' as const)
  const placed = [{ ...first, anchor: firstAnchor, line: 0 }]
  if (!second) return placed
  const secondAnchor = second.at + wide(second) <= 104 ? ('start' as const) : ('end' as const)
  const apart =
    (firstAnchor === 'end' ? first.at : first.at + wide(first)) <=
    (secondAnchor === 'start' ? second.at : second.at - wide(second))
  return [...placed, { ...second, anchor: secondAnchor, line: apart ? 0 : 1 }]
}
