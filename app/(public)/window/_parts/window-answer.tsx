import { ClockBars } from '#app/_ui/clock-bars.tsx'
import type { TemperatureUnit } from '#app/_ui/measures.ts'
import { ViabilityRibbon } from '#app/_ui/ribbon.tsx'
import { Columns, Section } from '#app/_ui/section.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import {
  caution,
  cutWords,
  keepsWords,
  sticksWords,
  swapWords,
  woodWords,
} from '#app/(public)/window/_parts/answer-words.ts'
import { sayLengthening } from '#app/g/[group]/wood/_parts/say-window.ts'
import { WindowBasis } from '#app/g/[group]/wood/_parts/window-basis.tsx'
import type { WindowAnswer } from '#lib/wood/answer-window.ts'
import type { AskedWood } from '#lib/wood/window-question.ts'

interface WindowAnswerProps {
  readonly answer: WindowAnswer
  readonly wood: AskedWood
  readonly crop: string
  readonly rate: string | undefined
  readonly unit: TemperatureUnit
}

/** How long the wood keeps: in words, as a ribbon, with what is running down and what it all rests on. */
export function WindowAnswerSection({ answer, wood, crop, rate, unit }: WindowAnswerProps) {
  const { window, swap, today, cutOn, used } = answer
  return (
    <Section id="answer" title={`${crop} ${woodWords[wood]}, ${cutWords(answer)}`}>
      <p className="lead" id="keeps">
        {cutOn <= today && (
          <>
            Today: <StateWord kind={window.state} />.{' '}
          </>
        )}
        {keepsWords(answer)}
      </p>
      <ViabilityRibbon
        id="ribbon"
        cut={cutOn}
        window={window}
        today={today}
        swap={swap?.day ?? null}
        stints={answer.stays}
      />
      <Columns>
        <div className="stack">
          {swap && (
            <>
              <h3>The day it is wanted</h3>
              <ul className="stack-s">
                {swapWords(answer, unit).map((words) => (
                  <li key={words}>{words}</li>
                ))}
              </ul>
            </>
          )}
          {answer.lengthening && (
            <p className="in-words">
              <b>What would lengthen this:</b> {sayLengthening(answer.lengthening, unit)}
            </p>
          )}
          {answer.sticks !== null && rate !== undefined && (
            <p className="in-words">
              <b>How many to take:</b> {sticksWords(answer.sticks, rate)}
            </p>
          )}
          {answer.isInLeaf && (
            <p className="note">
              Budwood cut in leaf keeps for days whatever the plant, so that is what is shown here.
            </p>
          )}
        </div>
        <div className="stack">
          <h3>What is running down</h3>
          <ClockBars
            clocks={[
              { clock: 'reserve', share: used.reserve },
              { clock: 'bud-break', share: used.budBreak },
              { clock: 'water', share: used.water },
            ]}
            limitedBy={window.limitedBy}
          />
          <p className="note">{caution}</p>
          <WindowBasis window={{ evidence: answer.evidence, flags: window.flags }} />
        </div>
      </Columns>
    </Section>
  )
}
