import { join } from 'node:path'
import PDFDocument from 'pdfkit'
import { paperMm } from '#lib/formats/labels/stock.ts'

export type Pdf = PDFKit.PDFDocument
export type Paper = keyof typeof paperMm

/** Faces of the papers: names of varieties, text, text that must be seen, codes. */
export type Face = 'name' | 'text' | 'bold' | 'code'

const fontFiles: Readonly<Record<Face, string>> = {
  name: 'besley-600.ttf',
  text: 'atkinson-hyperlegible-next-400.ttf',
  bold: 'atkinson-hyperlegible-next-700.ttf',
  code: 'atkinson-hyperlegible-mono-700.ttf',
}

// The application and the tests are started in the root of the repository.
const fontFile = (face: Face) => join(process.cwd(), 'lib/formats/pdf/fonts', fontFiles[face])

/** Millimetres as points. */
export const pt = (mm: number): number => (mm * 72) / 25.4

/** An empty document with our fonts in it, without pages and without margins. */
export function newPdf(title: string, paper: Paper): Pdf {
  const pdf = new PDFDocument({
    size: [pt(paperMm[paper].width), pt(paperMm[paper].height)],
    margin: 0,
    autoFirstPage: false,
    font: fontFile('text'),
    lang: 'en-GB',
    displayTitle: true,
    info: { Title: title, Producer: 'Tallywood', Creator: 'Tallywood' },
  })
  for (const face of ['name', 'text', 'bold', 'code'] as const) pdf.registerFont(face, fontFile(face))
  return pdf
}

/** Closes the document and gives its bytes. */
export function bytesOf(pdf: Pdf): Promise<Uint8Array<ArrayBuffer>> {
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = []
    pdf.on('data', (chunk: Uint8Array) => chunks.push(chunk))
    pdf.on('error', reject)
    pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))))
    pdf.end()
  })
}
