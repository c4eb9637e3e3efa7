import { ActionLink } from '#app/_ui/action-link.tsx'
import { LotCode } from '#app/_ui/code.tsx'
import { recordedDay } from '#app/_ui/dates.ts'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { lotHref } from '#app/g/[group]/wood/_parts/wood-links.ts'
import type { ReceivedWood } from '#lib/attempts/view.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'

interface WoodInHandProps {
  readonly slug: string
  readonly wood: readonly ReceivedWood[]
  readonly today: CivilDate
  /** Whom it is recorded for, when not for oneself. */
  readonly growerId: string | null
}

/** Sticks that somebody received, each with the way to say what was made of them. */
export function WoodInHand({ slug, wood, today, growerId }: WoodInHandProps) {
  const whom = growerId ? `&for=${growerId}` : ''
  return (
    <Rows>
      {wood.map((lot) => (
        <li key={lot.lotId} className="sec-head">
          <div className="stack-s">
            <p>
              {counted(lot.sticks, 'stick')} of <VarietyName name={lot.varietyName} />{' '}
              <span className="soft">{cropWord(lot.commonName)}</span>{' '}
              {lot.isHeld && <StateWord kind="hold" />}
            </p>
            <p className="note">
              <LotCode code={lot.code} href={lotHref(slug, lot.code)} />, cut {recordedDay(lot.cutOn, today)}
              {lot.isHeld && '. Do not use it: keep it apart, sealed, and ask the health steward.'}
            </p>
          </div>
          {lot.varietyName === null ? (
            <p className="note">It can be recorded once it has a name.</p>
          ) : (
            <ActionLink href={`/g/${slug}/grafts/new?lot=${lot.lotId}${whom}`} small>
              {lot.isHeld ? 'Record what was made before' : 'Record what I made'}
            </ActionLink>
          )}
        </li>
      ))}
    </Rows>
  )
}
