import { useId } from 'react'
import { clampPercent, narrowest, percent, textWidth } from '#app/_ui/chart-scale.ts'
import { dayMonth } from '#app/_ui/dates.ts'
import type { KeepingWindow } from '#app/_ui/keeping-window.ts'
import type { TemperatureUnit } from '#app/_ui/measures.ts'
import { describeReadings, ReadingsStrip, type RibbonReading, stripHeight } from '#app/_ui/readings-strip.tsx'
import { describeRibbon, type RibbonLayout, ribbonLayout } from '#app/_ui/ribbon-layout.ts'
import { StickBand } from '#app/_ui/stick-band.tsx'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import type { TemperatureBasis } from '#lib/viability/storage-history.ts'

export interface RibbonStint {
  readonly from: CivilDate
  /** Null while the wood is still there. */
  readonly to: CivilDate | null
  /** How its temperature is known. */
  readonly basis: TemperatureBasis
}

interface ViabilityRibbonProps {
  readonly cut: CivilDate
  readonly window: KeepingWindow
  readonly today: CivilDate
  readonly swap?: CivilDate | null
  readonly stints: readonly RibbonStint[]
  /** What was read where it was kept, by day. */
  readonly readings?: readonly RibbonReading[]
  readonly unit?: TemperatureUnit
  readonly title?: string
  readonly id?: string
}

const stickHeight = 28

/** How long wood keeps: from its cut through early, likely and late, with today, the swap and where it was kept. */
export function ViabilityRibbon({
  cut,
  window,
  today,
  swap = null,
  stints,
  readings = [],
  unit = 'C',
  title = 'How long this wood keeps',
  id,
}: ViabilityRibbonProps) {
  const generated = useId()
  const base = id ?? generated
  const dates = { cut, window, today, swap: swap !== null && swap >= cut ? swap : null }
  const layout = ribbonLayout(dates)
  const y = 50 + layout.lift
  const axis = y + 86 + (readings.length > 0 ? stripHeight : 0)
  const height = axis + (dates.swap ? 70 : 50)
  const { scale } = layout
  const late = scale(window.late)
  return (
    <figure className="fig">
      <svg role="img" aria-labelledby={`${base}t ${base}d`} width="100%" height={height}>
        <title id={`${base}t`}>{title}</title>
        <desc id={`${base}d`}>
          {readings.length > 0
            ? `${describeRibbon(dates)} ${describeReadings(readings, unit)}`
            : describeRibbon(dates)}
        </desc>
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of drawings takes no focus */}
        <g aria-hidden="true">
          <Limits layout={layout} y={y} />
          {late < 100 && <line className="past" x1={percent(late)} x2="100%" y1={y + 14} y2={y + 14} />}
          <StickBand
            cut={0}
            early={scale(window.early)}
            likely={scale(window.likely)}
            late={late}
            y={y}
            height={stickHeight}
            stroke={1.5}
          />
          <StorageLane stints={stints} today={today} late={window.late} scale={scale} y={y + 64} />
          {readings.length > 0 && <ReadingsStrip readings={readings} unit={unit} scale={scale} y={y + 80} />}
          <line className="axis" x1="0" x2="100%" y1={axis} y2={axis} />
          {dates.swap && <SwapMark swap={dates.swap} at={scale(dates.swap)} top={y - 4} axis={axis} />}
          <TodayMark day={daysBetween(cut, today)} at={scale(today)} top={y - 8} axis={axis} />
          <SegmentWords
            marks={[0, scale(window.early), scale(window.likely), late]}
            y={y + stickHeight + 19}
          />
          {layout.ticks.map((tick) => (
            <g key={tick.at}>
              <line className="axis" x1={percent(tick.at)} x2={percent(tick.at)} y1={axis} y2={axis + 6} />
              {tick.label && (
                <text className="t-s t-soft" x={percent(tick.at)} y={axis + 20} dx="1">
                  {tick.label}
                </text>
              )}
            </g>
          ))}
        </g>
      </svg>
    </figure>
  )
}

function Limits({ layout, y }: { readonly layout: RibbonLayout; readonly y: number }) {
  const labels = [layout.likely, layout.early, layout.late]
  const baseline = (row: number) => (row === 0 ? 14 : 16 + row * 20)
  return (
    <>
      {labels.map((label) => (
        <line
          key={label.text}
          className="lead-l"
          x1={percent(label.at)}
          x2={percent(label.at)}
          y1={baseline(label.row) + 6}
          y2={y}
        />
      ))}
      {labels.map((label) => (
        <text
          key={label.text}
          className={label.row === 0 ? 't-b' : undefined}
          textAnchor={label.textAnchor}
          x={percent(label.at)}
          dx={label.dx}
          y={baseline(label.row)}
        >
          {label.text}
        </text>
      ))}
    </>
  )
}

const segmentWords = ['good', 'use soon', 'test first'] as const

// On a desk a chart is at least this wide, so a word may stand there that does not fit on a phone.
const deskWidth = 400

function SegmentWords({ marks, y }: { readonly marks: readonly number[]; readonly y: number }) {
  return segmentWords.map((word, i) => {
    const from = marks[i] ?? 0
    const to = marks[i + 1] ?? 0
    const needed = textWidth(word, 13) + 4
    if (((to - from) / 100) * deskWidth < needed) return null
    const onPhones = ((to - from) / 100) * narrowest >= needed
    return (
      <text
        key={word}
        className={onPhones ? 't-s' : 't-s wide-only'}
        textAnchor="middle"
        x={percent((from + to) / 2)}
        y={y}
      >
        {word}
      </text>
    )
  })
}

interface StorageLaneProps {
  readonly stints: readonly RibbonStint[]
  readonly today: CivilDate
  readonly late: CivilDate
  readonly scale: (date: CivilDate) => number
  readonly y: number
}

function StorageLane({ stints, today, late, scale, y }: StorageLaneProps) {
  const now = clampPercent(scale(today))
  const end = clampPercent(scale(late))
  return (
    <>
      {end > now && (
        <rect className="kept-next" x={percent(now)} y={y + 0.75} width={percent(end - now)} height="10.5" />
      )}
      {stints.map((stint, i) => {
        const from = clampPercent(scale(stint.from))
        const to = Math.max(from, clampPercent(scale(stint.to ?? today)))
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: two stays may begin on one day
          <g key={`${stint.from} ${i}`}>
            <rect
              {...stintFill(stint.basis)}
              x={percent(from)}
              y={y}
              width={percent(to - from)}
              height="12"
            />
            <line className="inkline" x1={percent(from)} x2={percent(from)} y1={y - 3} y2={y + 15} />
          </g>
        )
      })}
    </>
  )
}

const stintFill = (basis: TemperatureBasis) =>
  basis === 'assumed' ? { fill: 'url(#p-as)' } : { className: `kept-${basis}` }

/** The fill of a stay, to stand before it in the list under the ribbon. */
export function StorageSwatch({ basis }: { readonly basis: TemperatureBasis }) {
  return (
    <svg className="swatch" width="24" height="12" aria-hidden="true" focusable="false">
      <rect {...stintFill(basis)} width="24" height="12" />
    </svg>
  )
}

interface MarkProps {
  readonly at: number
  readonly top: number
  readonly axis: number
}

function SwapMark({ swap, at, top, axis }: MarkProps & { readonly swap: CivilDate }) {
  const y = axis + 63
  const words = `swap ${dayMonth(swap)}`
  if (at > 100)
    return (
      <text className="t-dam" textAnchor="end" x="100%" y={y}>
        {words}, after this chart
      </text>
    )
  const right = (at / 100) * narrowest + textWidth(words, 14, true) + 6 <= narrowest
  return (
    <>
      <line className="swap" x1={percent(at)} x2={percent(at)} y1={top} y2={y - 1} />
      <text className="t-dam" textAnchor={right ? 'start' : 'end'} x={percent(at)} dx={right ? 6 : -6} y={y}>
        {words}
      </text>
    </>
  )
}

function TodayMark({ day, at, top, axis }: MarkProps & { readonly day: number }) {
  const shown = clampPercent(at)
  const words = day < 0 ? 'today, before the cut' : `today, day ${day}${at > 100 ? ', off this chart' : ''}`
  const width = textWidth(words, 13.5, true) + 24
  const right = (shown / 100) * narrowest + width <= narrowest + 12
  return (
    <>
      {at >= 0 && at <= 100 && (
        <line className="today" x1={percent(shown)} x2={percent(shown)} y1={top} y2={axis + 30} />
      )}
      <svg aria-hidden="true" x={percent(shown)} y={axis + 27} overflow="visible">
        <path className="flag" d={right ? `M-1 0h${width}l-8 20H-1z` : `M1 0h-${width}l8 20H1z`} />
        <text className="flag-t" textAnchor={right ? 'start' : 'end'} x={right ? 8 : -8} y="15">
          {words}
        </text>
      </svg>
    </>
  )
}
