import { displayCode } from '#app/_ui/code.tsx'
import { labelDay } from '#app/_ui/dates.ts'
import { LotQr } from '#app/_ui/labels/qr.tsx'
import { counted } from '#app/_ui/measures.ts'
import { quoted } from '#app/_ui/name.tsx'
import { SplitTally } from '#app/_ui/split-tally.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import '../labels.css'

/** What the label of a bag says. The sentences come ready, as they are the lot's own. */
export interface BagLabelData {
  readonly code: string
  /** Null where nobody knows it. */
  readonly variety: string | null
  /** "apple". */
  readonly crop: string
  /** "tree 12", "from Joss Pemberley". */
  readonly from: string
  readonly cut: CivilDate
  readonly sticks: number
  /** How the name is known and whether the wood may be passed on: "Fruited true, 2 seen. May be shared on." */
  readonly basis: string
  /** "Seen in leaf Aug 2026, no symptoms; not virus-tested." */
  readonly health: string
  /** "Keep near 1 °C, sealed. Good to mid Mar, likely to early Jun." */
  readonly keep: string
  readonly hold?: { readonly on: CivilDate; readonly by: string; readonly reason: string } | null
}

const longName = 22

/** The label of a bag, 99 × 68 mm: the code largest, a row of sticks to strike by pen. */
export function BagLabel({ label }: { readonly label: BagLabelData }) {
  const name = quoted(label.variety)
  return (
    <article className="bag">
      <div>
        <p className="b-top">
          <b>{label.crop}</b> <span>{label.from}</span>{' '}
          <span>
            cut <b>{labelDay(label.cut)}</b>
          </span>
        </p>
        <p className={name.length > longName ? 'b-name long' : 'b-name'}>{name}</p>
        <p className="b-code">{displayCode(label.code)}</p>
      </div>
      <LotQr code={label.code} />
      <SlantUp />
      {label.hold ? (
        <>
          <p className="b-hold">HOLD</p>
          <p className="b-facts held">
            Do not hand out, graft or share. {counted(label.sticks, 'stick')}.
            <br />
            Held {labelDay(label.hold.on)} by {label.hold.by}: {label.hold.reason}
          </p>
        </>
      ) : (
        <>
          <p className="b-facts">
            {label.basis}
            <br />
            {label.health}
            <br />
            {label.keep}
          </p>
          <Strike sticks={label.sticks} />
        </>
      )}
    </article>
  )
}

function SlantUp() {
  return (
    <div className="b-arrow">
      <svg viewBox="0 0 12 34" aria-hidden="true" focusable="false">
        <path d="M3 33V8L9 3V33z" fill="none" stroke="#000" strokeWidth=".8" />
        <path d="M5 13.4l2-.9M7.2 18.4l-2-.9M5 23.4l2-.9" stroke="#000" strokeWidth=".9" />
      </svg>
      <span>
        slant
        <br />
        end up
      </span>
    </div>
  )
}

const perLine = 25
const mostStruck = 50
const pitch = 2.7
const fiveGap = 1.5

// Sticks to strike one by one with a pen, so that the bag and the ledger can be brought together again.
function Strike({ sticks }: { readonly sticks: number }) {
  const drawn = Math.min(sticks, mostStruck)
  const lines = Math.max(1, Math.ceil(drawn / perLine))
  const x = (i: number) => (i % perLine) * pitch + Math.floor((i % perLine) / 5) * fiveGap + 0.15
  const width = x(Math.min(drawn, perLine) - 1) + 2.55
  const height = lines * 8 - 1
  const mmPerUnit = lines === 1 ? 6 / 7 : 0.6
  return (
    <div className="b-strike">
      <span>
        Strike one
        <br />
        per stick
      </span>
      <svg
        viewBox={`0 0 ${width.toFixed(2)} ${height}`}
        style={{
          width: `${(width * mmPerUnit).toFixed(1)}mm`,
          height: `${(height * mmPerUnit).toFixed(1)}mm`,
        }}
        aria-hidden="true"
        focusable="false"
      >
        <g fill="none" stroke="#000" strokeWidth=".28">
          {Array.from({ length: drawn }, (_, i) => (
            <path
              // biome-ignore lint/suspicious/noArrayIndexKey: a stick is its place in the row
              key={i}
              d={`M${x(i).toFixed(2)} ${Math.floor(i / perLine) * 8 + 6.85}v-5.35l1.5-1.15v6.5z`}
            />
          ))}
        </g>
      </svg>
      {sticks > drawn && <span>and {sticks - drawn} more</span>}
      <span className="b-own">
        <SplitTally width={26} />
      </span>
    </div>
  )
}

/** The label of a bag in small, for the page of its lot. */
export function BagPreview({ label }: { readonly label: BagLabelData }) {
  return (
    <div className="lbl">
      <div>
        <p>
          {label.crop} · {label.from} · cut {labelDay(label.cut)}
        </p>
        <p className="l-name">{quoted(label.variety)}</p>
        <p className="l-code">{displayCode(label.code)}</p>
      </div>
      <LotQr code={label.code} size="88px" />
      {label.hold ? (
        <p className="l-facts">
          <b>HOLD.</b> Do not hand out, graft or share. {label.hold.reason}
        </p>
      ) : (
        <p className="l-facts">
          {counted(label.sticks, 'stick')} · slant end up · {label.keep}
          <br />
          {label.health}
        </p>
      )}
    </div>
  )
}
