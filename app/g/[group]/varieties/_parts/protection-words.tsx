import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { isClaimed, protectionWords } from '#lib/varieties/protection.ts'
import type { VarietyRow, VarietyView } from '#lib/varieties/view.ts'

type Protected = Pick<VarietyRow, 'protection' | 'protectionCheckedOn' | 'needsOverride'>

/** Two or three words for a list, only where something stands in the way of an offering. */
export function ProtectionMark({ variety }: { readonly variety: Protected }) {
  if (!variety.needsOverride) return null
  return (
    <StateWord kind="hold">
      {isClaimed(variety.protection) ? protectionWords[variety.protection] : 'May be protected'}
    </StateWord>
  )
}

interface ProtectionLinesProps {
  readonly variety: VarietyView
  readonly today: CivilDate
}

/** What is known of a right in the variety, when it was looked up, and what that means for a swap here. */
export function ProtectionLines({ variety, today }: ProtectionLinesProps) {
  return (
    <>
      <p>
        {variety.needsOverride ? <ProtectionMark variety={variety} /> : protectionWords[variety.protection]}
        {variety.protectionNote && `. ${variety.protectionNote}`}
      </p>
      <p>
        Last checked:{' '}
        {variety.protectionCheckedOn ? (
          <RecordedDay date={variety.protectionCheckedOn} today={today} />
        ) : (
          <b>never, as far as this list knows</b>
        )}
        .
      </p>
      {variety.needsOverride && (
        <p>
          Its wood is kept out of swaps here. A steward or organiser can offer it all the same, with a reason
          that goes on record.
        </p>
      )}
      {variety.sharing === 'blocked' && (
        <p>
          Wood of citrus and its relatives is never offered here: serious diseases travel in it. Ask your
          agricultural authority where healthy wood can be had.
        </p>
      )}
      {variety.sharing === 'group-said-no' && (
        <p>
          Grape wood is not offered in this group. An organiser can change that in the settings, after asking
          your agricultural authority.
        </p>
      )}
      <p className="note">
        A note of what somebody found, not advice on the law. Rights differ from country to country and end or
        begin: check with the holder of the right or your authority before you give or sell wood.
      </p>
    </>
  )
}
