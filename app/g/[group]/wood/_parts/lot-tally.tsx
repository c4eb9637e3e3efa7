import { recordedDay } from '#app/_ui/dates.ts'
import { counted } from '#app/_ui/measures.ts'
import { Section } from '#app/_ui/section.tsx'
import { SumTable } from '#app/_ui/sum-table.tsx'
import { type StickKind, StickTally } from '#app/_ui/tally.tsx'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import type { ClaimOfLot, LotView, OfferingOfLot, StickSums } from '#lib/wood/view.ts'

interface Row {
  readonly label: string
  readonly count: number
  readonly glyph: StickKind
}

const usual = (sums: StickSums): Row[] => [
  { label: 'Free, in the store', count: sums.free, glyph: 'free' },
  { label: 'Claimed, not yet handed over', count: sums.promised, glyph: 'claimed' },
  { label: 'With members', count: sums.withMembers, glyph: 'handed' },
]

const seldom = (sums: StickSums): Row[] => [
  { label: 'Grafted or stuck', count: sums.used, glyph: 'handed' },
  { label: 'Taken from the table, no name', count: sums.unnamed, glyph: 'handed' },
  { label: 'In a parcel', count: sums.parcel, glyph: 'handed' },
  { label: 'Destroyed', count: sums.destroyed, glyph: 'spoiled' },
  { label: 'Lost', count: sums.lost, glyph: 'spoiled' },
]

/** Where the sticks of a lot are, and who has claimed them. */
export function LotTally({ view, today }: { readonly view: LotView; readonly today: CivilDate }) {
  const { sums, offerings } = view
  const rows = [...usual(sums), ...seldom(sums).filter((row) => row.count > 0)]
  const parts = (['handed', 'claimed', 'free', 'spoiled'] as const).map((kind) => ({
    kind,
    count: rows.filter((row) => row.glyph === kind).reduce((sum, row) => sum + row.count, 0),
  }))
  return (
    <Section id="tally" title="Stick tally">
      <StickTally parts={parts} />
      <div className="max-w-96">
        <SumTable rows={rows} total={{ label: 'Cut', count: sums.cut }} />
      </div>
      {offerings.map((offering) => (
        <Claims key={offering.offeringId} offering={offering} today={today} timeZone={view.timeZone} />
      ))}
    </Section>
  )
}

interface ClaimsProps {
  readonly offering: OfferingOfLot
  readonly today: CivilDate
  readonly timeZone: string
}

function Claims({ offering, today, timeZone }: ClaimsProps) {
  const { claims, shares, sharesClaimed, sticksPerShare } = offering
  const seen = claims.filter((claim) => claim.memberName !== null)
  const unseen = claims.filter((claim) => claim.memberName === null)
  const sticks = (of: readonly ClaimOfLot[]) => of.reduce((sum, claim) => sum + claim.sticks, 0)
  return (
    <>
      <h3>Claims for {offering.swapName}</h3>
      <p className="note">
        {sharesClaimed} of {counted(shares, 'share')} claimed, {counted(sticksPerShare, 'stick')} to the share
        {offering.isWithdrawn && '. The offer was withdrawn'}.
      </p>
      {claims.length > 0 && (
        <table className="tbl">
          <caption className="vh">Claims for {offering.swapName}</caption>
          <thead>
            <tr>
              <th scope="col">Member</th>
              <th scope="col" className="r">
                Sticks
              </th>
              <th scope="col">Going onto</th>
              <th scope="col">Claimed</th>
            </tr>
          </thead>
          <tbody>
            {seen.map((claim) => (
              <ClaimRow
                key={claim.claimId}
                claim={claim}
                claimedOn={recordedDay(civilDateIn(timeZone, claim.madeAt), today)}
              />
            ))}
            {unseen.length > 0 && (
              <tr>
                <th scope="row">{counted(unseen.length, seen.length > 0 ? 'other member' : 'member')}</th>
                <td className="r">{sticks(unseen)}</td>
                <td />
                <td />
              </tr>
            )}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row">Claimed</th>
              <td className="r">{sticks(claims)}</td>
              <td />
              <td />
            </tr>
          </tfoot>
        </table>
      )}
    </>
  )
}

function ClaimRow({ claim, claimedOn }: { readonly claim: ClaimOfLot; readonly claimedOn: string }) {
  return (
    <tr>
      <th scope="row">
        {claim.memberName}
        {claim.isOwn && ' (you)'}
      </th>
      <td className="r">{claim.sticks}</td>
      <td>{claim.purpose ?? <span className="soft">not said</span>}</td>
      <td className="nb">
        {claimedOn}
        {claim.isHandedOver && <span className="soft">, handed over</span>}
      </td>
    </tr>
  )
}
