import { displayCode } from '#app/_ui/code.tsx'
import { qrModules } from '#lib/formats/labels/qr-modules.ts'

interface LotQrProps {
  readonly code: string
  /** With its quiet zone of four modules: "21mm", "88px". */
  readonly size?: string
}

/** The bare code as a QR code: black on white in every mode. */
export function LotQr({ code, size = '21mm' }: LotQrProps) {
  const modules = qrModules(code)
  const path = modules
    .flatMap((row, y) => row.map((isDark, x) => (isDark ? `M${x} ${y}h1v1h-1z` : '')))
    .join('')
  const side = modules.length + 8
  return (
    <svg
      className="qr"
      viewBox={`-4 -4 ${side} ${side}`}
      width={size}
      height={size}
      shapeRendering="crispEdges"
      role="img"
      aria-label={`QR code for ${displayCode(code)}`}
    >
      <path d={path} />
    </svg>
  )
}
