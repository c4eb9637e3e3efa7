import Link from 'next/link'
import { recordedDay } from '#app/_ui/dates.ts'
import { Section } from '#app/_ui/section.tsx'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import type { LotView, MoveView } from '#lib/wood/view.ts'
import { moveWord } from '#lib/wood/words.ts'

interface LotLedgerProps {
  readonly view: LotView
  readonly today: CivilDate
  readonly href: string
  /** False while an earlier page of a long story is shown. */
  readonly isLatest: boolean
}

/** What an entry says happened, in a few words. */
export function moveSentence(move: MoveView): string {
  switch (move.kind) {
    case 'hand_over':
    case 'arrive':
      return `${moveWord(move.kind)}: to ${move.to}`
    case 'use':
      return `Grafted or stuck: from ${move.from}`
    case 'bring_back':
      return `Brought back: from ${move.from}`
    case 'destroy':
    case 'lose':
      return move.from === 'the store' ? moveWord(move.kind) : `${moveWord(move.kind)}: by ${move.from}`
    case 'split':
      return move.from === 'the store' ? 'Split off: into a lot of its own' : 'Split off from another lot'
    case 'reversal':
      return `Corrected: from ${move.from} back to ${move.to}`
    default:
      return moveWord(move.kind)
  }
}

/** Every entry of a lot's stick ledger with what lay free in the store after it. Nothing is ever written over. */
export function LotLedger({ view, today, href, isLatest }: LotLedgerProps) {
  return (
    <Section id="ledger" title="Every move of its sticks">
      {view.earlierUpTo && (
        <p>
          <Link className="tap" href={`${href}?upTo=${view.earlierUpTo}#ledger`} prefetch={false}>
            Earlier entries
          </Link>
        </p>
      )}
      <table className="tbl">
        <caption className="vh">Every move of the sticks of this lot, the first at the top</caption>
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">What</th>
            <th scope="col" className="r">
              Sticks
            </th>
            <th scope="col" className="r">
              Free after
            </th>
          </tr>
        </thead>
        <tbody>
          {view.moves.map((move, at) => (
            <Entry
              key={move.moveId}
              move={move}
              today={today}
              timeZone={view.timeZone}
              href={href}
              writtenOn={at === 0 && !view.earlierUpTo ? writtenLater(view) : null}
            />
          ))}
        </tbody>
        {isLatest && (
          <tfoot>
            <tr>
              <th scope="row">Now free</th>
              <td />
              <td />
              <td className="r">{view.sums.free}</td>
            </tr>
          </tfoot>
        )}
      </table>
      {!isLatest && (
        <p>
          <Link className="tap" href={`${href}#ledger`} prefetch={false}>
            The latest entries
          </Link>
        </p>
      )}
    </Section>
  )
}

/** The day on which a cut of an earlier day was written down. */
function writtenLater({ lot, timeZone }: LotView): CivilDate | null {
  const written = civilDateIn(timeZone, lot.createdAt)
  return written > lot.cutOn ? written : null
}

interface EntryProps {
  readonly move: MoveView
  readonly today: CivilDate
  readonly timeZone: string
  readonly href: string
  readonly writtenOn: CivilDate | null
}

/** An entry, on the page of the story that ends with it: both may be far apart. */
const entryHref = (href: string, moveId: string) => `${href}?upTo=${moveId}#entry-${moveId}`

function Entry({ move, today, timeZone, href, writtenOn }: EntryProps) {
  const happened = civilDateIn(timeZone, move.happenedAt)
  const by = move.recordedBy ?? 'a member'
  return (
    <tr id={`entry-${move.moveId}`}>
      <td className="nb">{recordedDay(happened, today)}</td>
      <th scope="row">
        {move.isReversed ? <s>{moveSentence(move)}</s> : moveSentence(move)}
        {move.reason && <>: {move.reason}</>}
        <br />
        <span className="note">
          {move.reversedById && (
            <>
              <Link href={entryHref(href, move.reversedById)} prefetch={false}>
                Corrected later
              </Link>
              .{' '}
            </>
          )}
          {move.reversesId && (
            <>
              <Link href={entryHref(href, move.reversesId)} prefetch={false}>
                See the entry that it corrects
              </Link>
              .{' '}
            </>
          )}
          by {by}
          {move.onBehalfOf && ` for ${move.onBehalfOf}`}
          {writtenOn && `, written down ${recordedDay(writtenOn, today)}`}
          {move.canBeCorrected && (
            <>
              {'. '}
              <Link href={`${href}/correct?entry=${move.moveId}`} prefetch={false}>
                Correct
                <span className="vh">
                  {' '}
                  this entry: {moveSentence(move)}, {move.sticks}
                </span>
              </Link>
            </>
          )}
        </span>
      </th>
      <td className="r">{move.sticks}</td>
      <td className="r">{move.freeAfter}</td>
    </tr>
  )
}
