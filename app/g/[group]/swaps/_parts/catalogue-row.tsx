import Link from 'next/link'
import { ActionLink } from '#app/_ui/action-link.tsx'
import type { DayAxis } from '#app/_ui/chart-scale.ts'
import { LotCode } from '#app/_ui/code.tsx'
import { MiniWindow } from '#app/_ui/mini-window.tsx'
import { quoted, VarietyName } from '#app/_ui/name.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { StickTally } from '#app/_ui/tally.tsx'
import { leftInWords, shareCount } from '#app/g/[group]/swaps/_parts/share-words.ts'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { healthInWords, nameInWords } from '#app/g/[group]/swaps/_parts/wood-words.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { CatalogueRow, SwapView } from '#lib/swaps/view.ts'

export interface CatalogueRowProps {
  readonly slug: string
  readonly swap: SwapView
  readonly row: CatalogueRow
  readonly axis: DayAxis
  readonly today: CivilDate
}

const claimHref = (slug: string, swap: SwapView, row: CatalogueRow) =>
  swapHref(slug, swap.id, `claim/${row.offeringId}`)

/** A lot on offer: what it is, how long it keeps, what is left of it, and the way to claim it. */
export function CatalogueItem(props: CatalogueRowProps) {
  const { slug, swap, row, axis, today } = props
  return (
    <li id={`lot-${row.code}`}>
      <div className="cat-name">
        <h3>
          <Link href={claimHref(slug, swap, row)} prefetch={false}>
            <VarietyName name={row.varietyName} />
          </Link>
        </h3>
        <p className="note">
          {row.varietyNote !== null && `${row.varietyNote} `}
          {nameInWords(row)}. Lot <LotCode code={row.code} />
          {row.note !== null && `. ${row.note}`}
        </p>
      </div>
      <div className="cat-win">
        {row.window.kind === 'window' && (
          <MiniWindow
            axis={axis}
            today={today}
            swap={swap.heldOn}
            cut={row.cutOn}
            window={row.window}
            height={26}
          />
        )}
        <p className="note">
          <WoodState row={row} /> {healthInWords(row)}
        </p>
      </div>
      <div>
        <OfferTally row={row} />
        <p className="note">{leftInWords(row)}</p>
      </div>
      <div className="cat-do">
        <ClaimWay {...props} />
      </div>
    </li>
  )
}

export function WoodState({ row }: { readonly row: CatalogueRow }) {
  if (row.isHeld) return <StateWord kind="hold" />
  return row.window.kind === 'window' ? (
    <StateWord kind={row.window.state} />
  ) : (
    <StateWord kind="info">No window</StateWord>
  )
}

/** The sticks of an offer one by one. */
export function OfferTally({ row }: { readonly row: CatalogueRow }) {
  const parts = [
    { kind: 'handed', count: row.sticksHandedOver },
    { kind: 'claimed', count: row.sticksPromised },
    { kind: 'free', count: row.sharesLeft * row.sticksPerShare },
  ] as const
  return <StickTally parts={parts} height={22} />
}

function ClaimWay({ slug, swap, row }: CatalogueRowProps) {
  const href = claimHref(slug, swap, row)
  const promised = row.mine.find((claim) => claim.status === 'promised')
  if (promised) {
    return (
      <>
        <Tag tone="good">You claimed {shareCount(promised.shares, row.sticksPerShare)}</Tag>
        <Link className="tap" href={href} prefetch={false}>
          Change<span className="vh"> your claim of {quoted(row.varietyName)}</span>
        </Link>
      </>
    )
  }
  if (row.mine.length > 0) return <Tag tone="good">You have some of this</Tag>
  if (row.isHeld || swap.claiming !== 'open') return null
  if (row.sharesLeft === 0) {
    return (
      <>
        <span className="note">All claimed</span>
        <Link className="tap" href={href} prefetch={false}>
          Waiting list{row.waiting > 0 && ` (${row.waiting})`}
          <span className="vh"> of {quoted(row.varietyName)}</span>
        </Link>
      </>
    )
  }
  return (
    <ActionLink href={href} small>
      Claim<span className="vh"> {quoted(row.varietyName)}</span>
    </ActionLink>
  )
}
