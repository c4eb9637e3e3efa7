import { displayCode, LotCode } from '#app/_ui/code.tsx'
import { recordedDay } from '#app/_ui/dates.ts'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Section } from '#app/_ui/section.tsx'
import { SumTable } from '#app/_ui/sum-table.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { lotHref } from '#app/g/[group]/wood/_parts/wood-links.ts'
import type { HeldLot, HoldView } from '#lib/health/view.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { StickSums } from '#lib/wood/view.ts'
import { toolCareWords } from '#lib/wood/words.ts'

interface HoldWoodProps {
  readonly slug: string
  readonly view: HoldView
  readonly today: CivilDate
}

const places: readonly (readonly [keyof StickSums, string])[] = [
  ['free', 'In the store, stopped'],
  ['promised', 'Claimed, stopped'],
  ['withMembers', 'With members'],
  ['used', 'Grafted or stuck'],
  ['unnamed', 'Taken without a name, cannot be traced'],
  ['parcel', 'In a parcel'],
  ['destroyed', 'Destroyed'],
  ['lost', 'Lost, cannot be traced'],
]

/** Where the sticks of the held wood are, lot by lot. */
export function WhereItWent({ slug, view, today }: HoldWoodProps) {
  const untraced = view.lots.reduce((sum, { sums }) => sum + sums.unnamed + sums.lost, 0)
  return (
    <Section id="wood" title="Where its wood went">
      {view.lots.length === 0 && <p className="soft">No lot was ever cut from it.</p>}
      {view.lots.map((held) => (
        <Held key={held.lot.lotId} slug={slug} held={held} today={today} seesHolders={view.seesHolders} />
      ))}
      {untraced > 0 && (
        <p className="note">{counted(untraced, 'stick')} cannot be traced, so this list is not complete.</p>
      )}
    </Section>
  )
}

interface HeldProps {
  readonly slug: string
  readonly held: HeldLot
  readonly today: CivilDate
  readonly seesHolders: boolean
}

function Held({ slug, held: { lot, sums, holders }, today, seesHolders }: HeldProps) {
  return (
    <div className="stack-s max-w-read">
      <h3>
        Lot <LotCode code={lot.code} href={lotHref(slug, lot.code)} />, cut {recordedDay(lot.cutOn, today)}
      </h3>
      <SumTable
        rows={places
          .filter(([place]) => sums[place] > 0)
          .map(([place, label]) => ({ label, count: sums[place] }))}
        total={{ label: 'Cut', count: sums.cut }}
      />
      {seesHolders && holders.length > 0 && (
        <p className="note">
          With {holders.map(({ name, sticks }) => `${name} (${sticks})`).join(', ')}. Ask them to look, and to
          share no wood of it.
        </p>
      )}
    </div>
  )
}

/** What was cut by the same person with the same tool on the same day. */
export function SameTool({ slug, view, today }: HoldWoodProps) {
  if (view.neighbours.length === 0) return null
  return (
    <Section id="tool" title="Cut with the same tool on the same day">
      <ul className="rows">
        {view.neighbours.map((near) => (
          <li key={near.code}>
            <LotCode code={near.code} href={lotHref(slug, near.code)} />{' '}
            <VarietyName name={near.varietyName} />{' '}
            <span className="soft">
              {cropWord(near.commonName)}, tree {displayCode(near.treeCode)}
            </span>
            <br />
            <span className="note">
              {recordedDay(near.cutOn, today)}, <b>{near.isAfter ? 'after' : 'before'}</b> the held wood;{' '}
              {toolCareWords(near.toolCare)}
            </span>
          </li>
        ))}
      </ul>
    </Section>
  )
}
