import { LotCode } from '#app/_ui/code.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import type { ClaimView } from '#lib/swaps/view.ts'

/** A box to tick with a pen; ticked already for what is handed over. */
function Box({ isDone }: { readonly isDone: boolean }) {
  return (
    <span className="inline-grid size-5 place-items-center border-2 border-ink align-middle">
      {isDone ? <span aria-hidden="true">✓</span> : null}
      <span className="vh">{isDone ? 'handed over' : 'to hand over'}</span>
    </span>
  )
}

/** Lines to write on. */
function Lines({ count, label }: { readonly count: number; readonly label: string }) {
  return (
    <div className="mt-2">
      <p className="note">{label}</p>
      {Array.from({ length: count }, (_, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: empty lines have no identity but their place
        <div key={i} className="h-9 border-b border-ink" />
      ))}
    </div>
  )
}

/** A column for paper and a wide screen; on a phone it stands under the name. */
const wide = 'hidden desk:table-cell print:table-cell'

interface ClaimTableProps {
  readonly claims: readonly ClaimView[]
  readonly caption: string
  readonly showsPerson: boolean
}

function ClaimTable({ claims, caption, showsPerson }: ClaimTableProps) {
  const sticks = claims.reduce((sum, claim) => sum + claim.sticks, 0)
  return (
    <table className="tbl mid">
      <caption className="vh">{caption}</caption>
      <thead>
        <tr>
          <th scope="col">Given</th>
          <th scope="col">{showsPerson ? 'Person' : 'Variety'}</th>
          {!showsPerson && (
            <th className={wide} scope="col">
              Lot
            </th>
          )}
          {!showsPerson && (
            <th className={wide} scope="col">
              Where
            </th>
          )}
          <th scope="col" className="r">
            Sticks
          </th>
        </tr>
      </thead>
      <tbody>
        {claims.map((claim) => (
          <tr key={claim.claimId} className={claim.isHeld ? 'is-held' : undefined}>
            <td>
              <Box isDone={claim.status === 'handed_over'} />
            </td>
            <th scope="row">
              {showsPerson ? claim.memberName : <LotInWords claim={claim} />}
              {claim.isHeld && <b> On hold: do not hand over</b>}
            </th>
            {!showsPerson && (
              <td className={wide}>
                <LotCode code={claim.code} />
              </td>
            )}
            {!showsPerson && <td className={wide}>{claim.note}</td>}
            <td className="r">{claim.sticks}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td />
          <th scope="row">All</th>
          {!showsPerson && <td className={wide} colSpan={2} />}
          <td className="r">{sticks}</td>
        </tr>
      </tfoot>
    </table>
  )
}

function LotInWords({ claim }: { readonly claim: ClaimView }) {
  return (
    <>
      <VarietyName name={claim.varietyName} />
      <span className="block desk:hidden print:hidden">
        <LotCode code={claim.code} /> {claim.note !== null && <span className="soft">{claim.note}</span>}
      </span>
    </>
  )
}

function groupedBy(claims: readonly ClaimView[], keyOf: (claim: ClaimView) => string): ClaimView[][] {
  const groups = new Map<string, ClaimView[]>()
  for (const claim of claims) {
    const group = groups.get(keyOf(claim))
    if (group) group.push(claim)
    else groups.set(keyOf(claim), [claim])
  }
  return [...groups.values()]
}

/** One sheet part per person: what to give, room for what they take besides, and a signature. */
export function ListByPerson({ claims }: { readonly claims: readonly ClaimView[] }) {
  const people = groupedBy(claims, (claim) => claim.memberId).sort((a, b) =>
    nameOf(a).localeCompare(nameOf(b), 'en'),
  )
  return (
    <>
      {people.map((own) => (
        <section key={own[0]?.memberId} className="sec break-inside-avoid" aria-label={nameOf(own)}>
          <h2>{nameOf(own)}</h2>
          <ClaimTable claims={own} caption={`What ${nameOf(own)} has claimed`} showsPerson={false} />
          <Lines count={2} label="Taken besides: lot code and sticks" />
          <Lines count={1} label="Signature" />
        </section>
      ))}
    </>
  )
}

const nameOf = (claims: readonly ClaimView[]) => claims[0]?.memberName ?? ''

/** One part per crop, as the tables stand, and in it one per lot. */
export function ListByTable({ claims }: { readonly claims: readonly ClaimView[] }) {
  const cropOf = (claim: ClaimView) => claim.commonName ?? 'Not named'
  const crops = groupedBy(claims, cropOf).sort((a, b) =>
    first(a, cropOf).localeCompare(first(b, cropOf), 'en'),
  )
  return (
    <>
      {crops.map((ofCrop) => (
        <section key={first(ofCrop, cropOf)} className="sec" aria-label={first(ofCrop, cropOf)}>
          <h2>{first(ofCrop, cropOf)}</h2>
          {groupedBy(ofCrop, (claim) => claim.offeringId)
            .sort((a, b) => placeOf(a).localeCompare(placeOf(b), 'en', { numeric: true }))
            .map((ofLot) => (
              <LotPart key={ofLot[0]?.offeringId} claims={ofLot} />
            ))}
        </section>
      ))}
    </>
  )
}

const first = (claims: readonly ClaimView[], of: (claim: ClaimView) => string): string => {
  const [claim] = claims
  return claim ? of(claim) : ''
}

/** In the order of the bags, where somebody has noted it. */
const placeOf = (claims: readonly ClaimView[]) =>
  first(claims, (claim) => `${claim.note ?? '~'} ${claim.varietyName ?? ''} ${claim.code}`)

function LotPart({ claims }: { readonly claims: readonly ClaimView[] }) {
  const [claim] = claims
  if (!claim) return null
  const sticks = claims.reduce((sum, { sticks: own }) => sum + own, 0)
  return (
    <div className="break-inside-avoid">
      <h3>
        <VarietyName name={claim.varietyName} /> <LotCode code={claim.code} />
      </h3>
      <p className="note">
        {counted(sticks, 'stick')} for {claims.length === 1 ? '1 person' : `${claims.length} people`}
        {claim.note !== null && `. ${claim.note}`}
      </p>
      <ClaimTable claims={claims} caption={`Claims of lot ${claim.code}`} showsPerson />
      <Lines count={1} label="Taken without a claim: sticks" />
    </div>
  )
}
