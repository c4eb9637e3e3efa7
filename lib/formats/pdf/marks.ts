import { type Pdf, pt } from '#lib/formats/pdf/paper.ts'

/** Modules drawn in runs, so that no hairline shows between neighbours. `size` is without the quiet zone. */
export function drawQr(
  pdf: Pdf,
  modules: readonly (readonly boolean[])[],
  x: number,
  y: number,
  size: number,
): void {
  const module = size / modules.length
  for (const [row, dark] of modules.entries()) {
    let from = -1
    for (let column = 0; column <= dark.length; column++) {
      if (dark[column] && from < 0) from = column
      if (!dark[column] && from >= 0) {
        // A hundredth taller than a module: rows overlap instead of leaving a seam.
        pdf.rect(pt(x + from * module), pt(y + row * module), pt((column - from) * module), pt(module * 1.01))
        from = -1
      }
    }
  }
  pdf.fill('#000')
}

/** A stick, square at the base, cut on the slant at its upper end. */
export function drawStick(pdf: Pdf, x: number, y: number, width: number, height: number): void {
  const slant = Math.min(height * 0.2, width * 0.8)
  pdf
    .moveTo(pt(x), pt(y + height))
    .lineTo(pt(x), pt(y + slant))
    .lineTo(pt(x + width), pt(y))
    .lineTo(pt(x + width), pt(y + height))
    .closePath()
}

/** The stick with an arrow beside it: this end up. */
export function drawSlantUp(pdf: Pdf, x: number, y: number, height: number): void {
  const width = height / 5.5
  drawStick(pdf, x, y, width, height)
  const arrow = x + width + height * 0.14
  const head = height * 0.1
  pdf
    .moveTo(pt(arrow), pt(y + height))
    .lineTo(pt(arrow), pt(y + height * 0.08))
    .moveTo(pt(arrow - head), pt(y + height * 0.08 + head * 1.4))
    .lineTo(pt(arrow), pt(y + height * 0.08))
    .lineTo(pt(arrow + head), pt(y + height * 0.08 + head * 1.4))
  pdf.lineWidth(pt(0.28)).stroke('#000')
}

/** How wide `drawSlantUp` is at a height. */
export const slantUpWidth = (height: number): number => height / 5.5 + height * 0.24 + 0.3

/** A straight rule. */
export function rule(pdf: Pdf, x: number, y: number, width: number, thickness = 0.3): void {
  pdf
    .moveTo(pt(x), pt(y))
    .lineTo(pt(x + width), pt(y))
    .lineWidth(pt(thickness))
    .stroke('#000')
}

/** An empty box. */
export function box(pdf: Pdf, x: number, y: number, width: number, height: number, thickness = 0.3): void {
  pdf.rect(pt(x), pt(y), pt(width), pt(height)).lineWidth(pt(thickness)).stroke('#000')
}

/** A black field to write white on. */
export function blackField(pdf: Pdf, x: number, y: number, width: number, height: number): void {
  pdf.rect(pt(x), pt(y), pt(width), pt(height)).fill('#000')
}
