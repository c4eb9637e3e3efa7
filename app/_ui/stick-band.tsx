import { clampPercent, percent } from '#app/_ui/chart-scale.ts'

interface StickBandProps {
  /** Per cent of the width; a mark off the axis is cut off at its edge. */
  readonly cut: number
  readonly early: number
  readonly likely: number
  readonly late: number
  readonly y: number
  readonly height: number
  readonly stroke: number
}

/** The window as a stick: square where it was cut, on the slant where it ends. */
export function StickBand({ cut, early, likely, late, y, height, stroke }: StickBandProps) {
  const a = clampPercent(cut)
  const b = Math.max(a, clampPercent(early))
  const c = Math.max(b, clampPercent(likely))
  const d = Math.max(c, clampPercent(late))
  if (cut >= 100 || late <= 0) return null
  const bottom = y + height
  return (
    <>
      <rect className="good" x={percent(a)} y={y} width={percent(b - a)} height={height} />
      <rect fill="url(#p-soon)" x={percent(b)} y={y} width={percent(c - b)} height={height} />
      <rect fill="url(#p-test)" x={percent(c)} y={y} width={percent(d - c)} height={height} />
      <g className="inkline" style={{ strokeWidth: stroke }}>
        {cut >= 0 && <line x1={percent(a)} x2={percent(a)} y1={y} y2={bottom} />}
        <line x1={percent(a)} x2={percent(d)} y1={y} y2={y} />
        <line x1={percent(a)} x2={percent(d)} y1={bottom} y2={bottom} />
        {early > 0 && early <= 100 && <line x1={percent(b)} x2={percent(b)} y1={y} y2={bottom} />}
        {likely > 0 && likely <= 100 && <line x1={percent(c)} x2={percent(c)} y1={y} y2={bottom} />}
      </g>
      {late <= 100 && (
        <svg aria-hidden="true" x={percent(d)} y={y} overflow="visible">
          <path
            className="inkline"
            style={{ strokeWidth: stroke, fill: 'url(#p-test)' }}
            d={`M0 0h${(height * 0.45).toFixed(1)}L0 ${height}z`}
          />
        </svg>
      )}
    </>
  )
}
