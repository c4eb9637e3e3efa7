import { ActionLink } from '#app/_ui/action-link.tsx'
import { ClockBars } from '#app/_ui/clock-bars.tsx'
import { dayMonth } from '#app/_ui/dates.ts'
import { Facts } from '#app/_ui/facts.tsx'
import { type TemperatureUnit, temperature, temperatureRange } from '#app/_ui/measures.ts'
import type { RibbonReading } from '#app/_ui/readings-strip.tsx'
import { StorageSwatch, ViabilityRibbon } from '#app/_ui/ribbon.tsx'
import { Columns, Section } from '#app/_ui/section.tsx'
import { sayLengthening, sayLimit, sayNoWindow } from '#app/g/[group]/wood/_parts/say-window.ts'
import { WindowBasis } from '#app/g/[group]/wood/_parts/window-basis.tsx'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import type { LotView, StayView } from '#lib/wood/view.ts'
import { budStageWord, packagingWord } from '#lib/wood/words.ts'

interface LotWindowProps {
  readonly view: LotView
  readonly today: CivilDate
  readonly unit: TemperatureUnit
  readonly href: string
}

/** How long a lot keeps, where it has been kept, and what is running down. */
export function LotWindowSection(props: LotWindowProps) {
  const { view, today } = props
  const { lot, window, stays } = view
  return (
    <Section id="keeps" title="How long it keeps">
      {window.kind === 'window' ? (
        <ViabilityRibbon
          id="ribbon"
          cut={lot.cutOn}
          window={window}
          today={today}
          swap={view.swapDay}
          stints={stays}
          readings={daysRead(stays)}
          unit={props.unit}
        />
      ) : (
        <p>{sayNoWindow(window.why)}</p>
      )}
      <Columns>
        <div className="stack">
          <h3>Where it has been kept</h3>
          <ul className="rows">
            {stays.map((stay) => (
              <Stay key={`${stay.storeId} ${stay.from}`} stay={stay} today={today} unit={props.unit} />
            ))}
          </ul>
          <WhatWouldNarrow {...props} />
          <WhatWouldLengthen {...props} />
          {view.mayTend && (
            <p className="acts">
              <ActionLink href={`${props.href}/move`} small>
                Record a move
              </ActionLink>
              <ActionLink href={`${props.href}/split`} small>
                Split the lot
              </ActionLink>
              <ActionLink href={`${props.href}/loss`} small>
                Write sticks off
              </ActionLink>
            </p>
          )}
        </div>
        <RunningDown view={view} />
      </Columns>
    </Section>
  )
}

function stayWords({ celsius: { low, mid, high }, basis }: StayView, unit: TemperatureUnit): string {
  if (basis === 'assumed') return `not measured; ${temperatureRange(low, high, unit)} assumed`
  if (basis === 'logger') return `${temperature(mid, unit)}, logger`
  return low === high
    ? `${temperature(mid, unit)}, read off the dial`
    : `${temperatureRange(low, high, unit)}, as read`
}

/** What was read in all its stays, each day once: on the day of a move two stores were read. */
function daysRead(stays: readonly StayView[]): RibbonReading[] {
  const days = new Map<CivilDate, RibbonReading>()
  for (const { day, lowest, highest } of stays.flatMap((stay) => stay.days)) {
    const known = days.get(day)
    days.set(day, {
      day,
      lowest: Math.min(lowest, known?.lowest ?? lowest),
      highest: Math.max(highest, known?.highest ?? highest),
    })
  }
  return [...days.values()]
}

/** A store that has been silent for longer than this is worth a look at its thermometer. */
const longSilenceDays = 7

/** Since when a stay that goes on is only taken to be as it was last read. */
function silentSince({ to, days }: StayView, today: CivilDate): CivilDate | null {
  const last = days.at(-1)?.day
  return to === null && last && daysBetween(last, today) > longSilenceDays ? last : null
}

interface StayProps {
  readonly stay: StayView
  readonly today: CivilDate
  readonly unit: TemperatureUnit
}

function Stay({ stay, today, unit }: StayProps) {
  const since = silentSince(stay, today)
  return (
    <li className="grid grid-cols-[1.75rem_1fr_auto] items-baseline gap-x-3 text-table">
      <StorageSwatch basis={stay.basis} />
      <span>
        <b>{stay.storeName}</b>
        {stay.keeperName && `, ${stay.keeperName}`}
        <br />
        <span className="soft">
          {stayWords(stay, unit)}
          {since && `; last read ${dayMonth(since)}, taken to have stayed so`}
        </span>
      </span>
      <span className="nb">
        {dayMonth(stay.from)} to {stay.to ? dayMonth(stay.to) : 'now'}
      </span>
    </li>
  )
}

function WhatWouldNarrow({ view, today, unit }: LotWindowProps) {
  const { narrowing, window, stays, lot } = view
  const stay = narrowing && stays[narrowing.stay]
  if (!narrowing || !stay || window.kind === 'none') return null
  const said = (limit: CivilDate) => sayLimit(limit, window, { cut: lot.cutOn, today })
  const [was, would] = [said(window.early), said(narrowing.early)]
  return (
    <p className="in-words">
      <b>What would narrow this:</b> a thermometer in {stay.storeName}. If it is near{' '}
      {temperature(narrowing.celsius, unit)} there,{' '}
      {was === would ? 'the window gets narrower.' : `the early limit moves from ${was} to ${would}.`}
    </p>
  )
}

function WhatWouldLengthen({ view: { lengthening }, unit }: LotWindowProps) {
  if (!lengthening) return null
  return (
    <p className="in-words">
      <b>What would lengthen it:</b> {sayLengthening(lengthening, unit)}
    </p>
  )
}

function RunningDown({ view: { lot, window } }: { readonly view: LotView }) {
  return (
    <div className="stack">
      {window.kind === 'window' && (
        <>
          <h3>What is running down</h3>
          <ClockBars
            clocks={[
              { clock: 'reserve', share: window.used.reserve },
              { clock: 'bud-break', share: window.used.budBreak },
              { clock: 'water', share: window.used.water },
            ]}
            limitedBy={window.limitedBy}
          />
          <p className="note">
            No published rule gives a shelf life for scion wood. The window is a convention fitted to sparse
            trials: look at the wood before you use or discard it.
          </p>
          <WindowBasis window={window} />
        </>
      )}
      <Facts
        items={[
          ['Buds when cut', budStageWord(lot.budStage)],
          ['Packing', packagingWord(lot.packaging).toLowerCase()],
        ]}
      />
    </div>
  )
}
