import { createCanvas, DOMMatrix, ImageData, Path2D } from '@napi-rs/canvas'
import jsQR from 'jsqr'
import type { PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs'

// The reader takes these from the world around it when it is loaded; they must be of the same kind as the canvas.
Object.assign(globalThis, { DOMMatrix, ImageData, Path2D })
const { getDocument } = await import('pdfjs-dist/legacy/build/pdf.mjs')

/** A text and where it stands, in millimetres from the upper left of the page; `y` is its baseline. */
export interface PdfText {
  readonly text: string
  readonly x: number
  readonly y: number
  readonly width: number
  /** Points. */
  readonly size: number
}

export interface ReadPdf {
  readonly pages: number
  /** Millimetres. */
  readonly size: { readonly width: number; readonly height: number }
  textsOf(page: number): Promise<PdfText[]>
  /** The page as a picture, so many dots to the millimetre. */
  picture(page: number, dotsPerMm?: number): Promise<PdfPicture>
  close(): Promise<void>
}

export interface PdfPicture {
  readonly png: Buffer
  /** What a reader of QR codes finds in a part of the page, in millimetres. */
  qrIn(x: number, y: number, width: number, height: number): string | null
  /** Whether every dot of the page is grey or black. */
  readonly isGrey: boolean
}

const mm = (points: number) => (points * 25.4) / 72

/** Opens a PDF with another program than the one that wrote it. */
export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const pdf = await getDocument({ data: bytes.slice(), useSystemFonts: false, verbosity: 0 }).promise
  const first = (await pdf.getPage(1)).getViewport({ scale: 1 })
  return {
    pages: pdf.numPages,
    size: { width: mm(first.width), height: mm(first.height) },
    textsOf: (page) => textsOf(pdf, page),
    picture: (page, dotsPerMm = 12) => picture(pdf, page, dotsPerMm),
    close: () => pdf.destroy(),
  }
}

async function textsOf(pdf: PDFDocumentProxy, number: number): Promise<PdfText[]> {
  const page = await pdf.getPage(number)
  const { height } = page.getViewport({ scale: 1 })
  const { items } = await page.getTextContent()
  return items.flatMap((item) => {
    if (!('str' in item) || item.str.trim() === '') return []
    const transform: number[] = item.transform
    return [
      {
        text: item.str,
        x: mm(transform[4] ?? 0),
        y: mm(height - (transform[5] ?? 0)),
        width: mm(item.width),
        size: Math.hypot(transform[2] ?? 0, transform[3] ?? 0),
      },
    ]
  })
}

async function picture(pdf: PDFDocumentProxy, number: number, dotsPerMm: number): Promise<PdfPicture> {
  const page = await pdf.getPage(number)
  const viewport = page.getViewport({ scale: (dotsPerMm * 25.4) / 72 })
  const canvas = createCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height))
  const context = canvas.getContext('2d')
  // @ts-expect-error the canvas of Node draws what the browser's does
  await page.render({ canvasContext: context, canvas, viewport }).promise
  const { data } = context.getImageData(0, 0, canvas.width, canvas.height)
  let isGrey = true
  for (let i = 0; i < data.length; i += 4) {
    if (data[i] !== data[i + 1] || data[i] !== data[i + 2]) isGrey = false
  }
  return {
    png: canvas.toBuffer('image/png'),
    isGrey,
    qrIn: (x, y, width, height) => {
      const [w, h] = [Math.round(width * dotsPerMm), Math.round(height * dotsPerMm)]
      const part = context.getImageData(Math.round(x * dotsPerMm), Math.round(y * dotsPerMm), w, h)
      return jsQR(part.data, w, h)?.data ?? null
    },
  }
}
