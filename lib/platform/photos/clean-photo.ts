import { createHash } from 'node:crypto'
import sharp from 'sharp'
import { ok, type Result, refuse } from '#lib/kernel/result.ts'

/** A picture as it is kept: upright, small enough, JPEG, without anything that its camera wrote into it. */
export interface CleanPhoto {
  readonly bytes: Uint8Array
  readonly width: number
  readonly height: number
  readonly sha256: string
}

export type PhotoRefusal =
  | { readonly kind: 'photo-too-large'; readonly mostMegabytes: number }
  /** What was sent is none of the kinds of picture that are taken, whatever its name says. */
  | { readonly kind: 'not-a-photo' }

/** As many bytes as a picture may have on its way in. */
export const mostUploadBytes = 8_000_000
/** The longer side of a kept picture, in pixels. */
const longestSide = 1600
/** A small file may unfold to a huge picture; beyond this it is not opened. */
const mostPixels = 80_000_000
const takenFormats: ReadonlySet<string> = new Set(['jpeg', 'png', 'webp'])

async function formatOf(upload: Uint8Array): Promise<string | null> {
  try {
    return (await sharp(upload, { limitInputPixels: mostPixels }).metadata()).format ?? null
  } catch {
    // Not a picture that the decoder knows: that is the answer, not a fault of ours.
    return null
  }
}

async function redraw(upload: Uint8Array) {
  try {
    return await sharp(upload, { limitInputPixels: mostPixels, failOn: 'error' })
      .autoOrient()
      .resize({ width: longestSide, height: longestSide, fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .toColourspace('srgb')
      .jpeg({ quality: 80, mozjpeg: true })
      .toBuffer({ resolveWithObject: true })
  } catch {
    // Cut short or damaged on its way.
    return null
  }
}

/**
 * Draws a picture anew from its pixels: its kind is found out from its content, it is turned upright, made no larger
 * than 1600 pixels, and everything else in the file, such as the place where it was taken, is left behind.
 */
export async function cleanPhoto(upload: Uint8Array): Promise<Result<CleanPhoto, PhotoRefusal>> {
  if (upload.length > mostUploadBytes) {
    return refuse({ kind: 'photo-too-large', mostMegabytes: mostUploadBytes / 1_000_000 })
  }
  const format = await formatOf(upload)
  if (format === null || !takenFormats.has(format)) return refuse({ kind: 'not-a-photo' })
  const drawn = await redraw(upload)
  if (!drawn) return refuse({ kind: 'not-a-photo' })
  const { data, info } = drawn
  const sha256 = createHash('sha256').update(data).digest('hex')
  return ok({ bytes: data, width: info.width, height: info.height, sha256 })
}
