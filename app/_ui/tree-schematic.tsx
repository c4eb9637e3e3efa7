import type { LengthUnit } from '#app/_ui/measures.ts'
import { height as heightWords } from '#app/_ui/measures.ts'
import { type PlacedLimb, placeLimbs, type SchematicLimb, treeShape } from '#app/_ui/tree-layout.ts'

interface TreeSchematicProps {
  readonly limbs: readonly SchematicLimb[]
  readonly rootstock?: string | null
  readonly lengthUnit?: LengthUnit
}

function describe(limbs: readonly SchematicLimb[], unit: LengthUnit): string {
  if (limbs.length === 0) return 'Drawing of the tree, no limbs recorded.'
  const said = limbs.map((limb) =>
    [
      `limb ${limb.letter}`,
      limb.heightM === null ? 'height not recorded' : `at ${heightWords(limb.heightM, unit)}`,
      limb.direction,
      limb.state === 'gone' ? 'did not take' : null,
      limb.variety ?? 'no name',
    ]
      .filter(Boolean)
      .join(', '),
  )
  return `Drawing of the tree: ${said.join('; ')}.`
}

/** A tree and its limbs from the ground up. Heights are to scale; left and right are only for room. */
export function TreeSchematic({ limbs, rootstock = null, lengthUnit = 'cm' }: TreeSchematicProps) {
  const shape = treeShape(limbs)
  const { base, yOf } = shape
  const cx = 210
  const [knee, shoulder, tip, lip] = [1.4, 2.2, 2.42, 2.36].map((share) =>
    Math.round(yOf((share / 2.6) * shape.topM)),
  )
  return (
    <svg
      className="tree"
      viewBox={`0 0 420 ${base + 40}`}
      width="100%"
      role="img"
      aria-label={describe(limbs, lengthUnit)}
    >
      {shape.marksM.map((metres) => (
        <g key={metres}>
          <line x1="16" x2="404" y1={yOf(metres)} y2={yOf(metres)} className="grid" />
          <text x="2" y={yOf(metres) - 4} className="t-s t-soft">
            {lengthUnit === 'cm' ? `${metres.toFixed(1)} m` : heightWords(metres, 'in')}
          </text>
        </g>
      ))}
      <path
        className="tr-trunk"
        d={`M${cx - 17} ${base}C${cx - 9} ${base - 30} ${cx - 9} ${knee} ${cx - 4} ${shoulder}L${cx + 1} ${tip}L${cx + 5} ${lip}C${cx + 6} ${knee} ${cx + 10} ${base - 34} ${cx + 17} ${base}z`}
      />
      {rootstock && (
        <>
          <path className="tr-join" d={`M${cx - 18} ${base - 27}L${cx + 18} ${base - 39}`} />
          <text x={cx + 26} y={base - 28} className="t-s t-soft">
            union
          </text>
        </>
      )}
      {placeLimbs(limbs, shape).map((limb) => (
        <Limb key={limb.letter} limb={limb} />
      ))}
      <line x1="16" x2="404" y1={base} y2={base} className="inkline" />
      <text x="404" y={base + 18} textAnchor="end" className="t-s t-soft">
        ground
      </text>
      {rootstock && (
        <text x={cx} y={base + 34} textAnchor="middle" className="t-s">
          stock: {rootstock}
        </text>
      )}
    </svg>
  )
}

function Limb({ limb }: { readonly limb: PlacedLimb }) {
  return (
    <>
      <path className={`tr-limb ${limb.state}`} d={limb.outline} />
      {limb.join && <path className="tr-join" d={limb.join} />}
      {limb.cross && <path className="tr-x" d={limb.cross} />}
      <circle cx={limb.bubble.x} cy={limb.bubble.y} r="13" className={`tr-b ${limb.state}`} />
      <text x={limb.bubble.x} y={limb.bubble.y + 5.5} textAnchor="middle" className="t-b tr-letter">
        {limb.letter}
      </text>
    </>
  )
}
