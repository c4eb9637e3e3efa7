import { counted } from '#app/_ui/measures.ts'

/** What became of a stick, as it is drawn. Lost sticks are drawn as spoiled ones. */
export type StickKind = 'free' | 'claimed' | 'handed' | 'backup' | 'spoiled'

/** The kinds in words, in the order in which they are drawn. */
const stickWords: Record<StickKind, string> = {
  handed: 'handed over',
  claimed: 'claimed',
  free: 'free',
  backup: 'kept for the group tree',
  spoiled: 'spoiled or lost',
}

interface GlyphProps {
  readonly kind: StickKind
  readonly x: number
  readonly height: number
  readonly width: number
}

const px = (value: number) => Number(value.toFixed(2))

// Sawn square at the base, cut on the slant at the tip.
function Glyph({ kind, x, height, width }: GlyphProps) {
  const shoulder = width * 0.7
  const outline = (
    <path
      className="o"
      d={`M${px(x + 0.8)} ${px(height - 0.8)}V${px(shoulder + 0.6)}L${px(x + width - 0.8)} 1.4V${px(height - 0.8)}z`}
    />
  )
  const solid = <path className="f" d={`M${px(x)} ${height}V${px(shoulder)}L${px(x + width)} 0V${height}z`} />
  switch (kind) {
    case 'free':
      return outline
    case 'claimed':
      return (
        <>
          {outline}
          <path
            className="h"
            d={`M${px(x + 0.8)} ${px(height - 0.8)}V${px(height * 0.52)}h${px(width - 1.6)}V${px(height - 0.8)}z`}
          />
        </>
      )
    case 'handed':
      return solid
    case 'backup':
      return (
        <>
          {solid}
          <rect className="tie" x={px(x - 1)} y={px(height / 2 - 2)} width={px(width + 2)} height="4" />
        </>
      )
    case 'spoiled':
      return (
        <>
          {outline}
          <path className="x" d={`M${px(x - 2)} ${px(height - 3)}L${px(x + width + 2)} ${px(shoulder)}`} />
        </>
      )
  }
}

interface StickTallyProps {
  readonly parts: readonly { readonly kind: StickKind; readonly count: number }[]
  /** Pixels: 30 beside a heading, 22 in a row. */
  readonly height?: number
  /** Read out instead of the counts in words. */
  readonly label?: string
}

function inWords(parts: StickTallyProps['parts']): string {
  const said = parts.filter((part) => part.count > 0)
  const total = said.reduce((sum, part) => sum + part.count, 0)
  const listed = said.map((part) => `${part.count} ${stickWords[part.kind]}`).join(', ')
  return said.length === 0 ? 'No sticks' : `${counted(total, 'stick')}: ${listed}`
}

/** Sticks one by one, in fives. */
export function StickTally({ parts, height = 30, label }: StickTallyProps) {
  const width = height < 26 ? 5 : 8
  const pitch = width * 1.5
  const sticks = parts.flatMap((part) => Array.from({ length: part.count }, () => part.kind))
  const fives = Array.from({ length: Math.ceil(sticks.length / 5) }, (_, i) => sticks.slice(i * 5, i * 5 + 5))
  return (
    <div className="tally" role="img" aria-label={label ?? inWords(parts)}>
      {fives.map((five, group) => (
        <svg
          // biome-ignore lint/suspicious/noArrayIndexKey: a stick has no identity but its place in the row
          key={group}
          className="stk"
          width={five.length * pitch - width / 2}
          height={height}
          aria-hidden="true"
          focusable="false"
        >
          {five.map((kind, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: as above
            <Glyph key={i} kind={kind} x={i * pitch} height={height} width={width} />
          ))}
        </svg>
      ))}
    </div>
  )
}

/** One stick to stand before its word. */
export function StickGlyph({ kind, height = 20 }: { readonly kind: StickKind; readonly height?: number }) {
  return (
    <svg className="stk glyph" width="8" height={height} aria-hidden="true" focusable="false">
      <Glyph kind={kind} x={0} height={height} width={8} />
    </svg>
  )
}

/** What the five drawings mean. */
export function TallyKey() {
  return (
    <p className="key">
      {(Object.keys(stickWords) as StickKind[]).map((kind) => (
        <span key={kind}>
          <StickGlyph kind={kind} />
          {stickWords[kind]}
        </span>
      ))}
    </p>
  )
}
