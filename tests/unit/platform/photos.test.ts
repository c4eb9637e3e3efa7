import { randomUUID } from 'node:crypto'
import { mkdtemp, readdir, rm } from 'node:fs/promises'
import { createServer, type IncomingMessage } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { cleanPhoto, mostUploadBytes } from '#lib/platform/photos/clean-photo.ts'
import { diskPhotos } from '#lib/platform/photos/disk-photos.ts'
import { type PhotoStore, photoPath } from '#lib/platform/photos/photo-store.ts'
import { s3Photos } from '#lib/platform/photos/s3-photos.ts'

const plain = (width: number, height: number) =>
  sharp({ create: { width, height, channels: 3, background: '#7a9a5c' } })

const fromPhone = (width: number, height: number) =>
  plain(width, height)
    .withExif({
      IFD0: { Make: 'Camera', Copyright: 'Wren of Marrow Lane' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' },
    })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer()

describe('a photo that comes in', () => {
  test('loses what its camera wrote into it, and stands upright', async () => {
    const upload = await fromPhone(300, 200)
    expect((await sharp(upload).metadata()).exif).toBeDefined()
    const cleaned = await cleanPhoto(upload)
    if (!cleaned.ok) throw new Error(cleaned.refusal.kind)
    const { bytes, width, height } = cleaned.value
    expect([width, height]).toEqual([200, 300])
    const kept = await sharp(bytes).metadata()
    expect(kept).toMatchObject({ format: 'jpeg', width: 200, height: 300 })
    expect([kept.exif, kept.xmp, kept.iptc, kept.orientation]).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
    ])
    expect(Buffer.from(bytes).includes('Marrow Lane')).toBe(false)
  })

  test('is made no larger than is needed to see something', async () => {
    const cleaned = await cleanPhoto(await plain(4000, 1000).jpeg().toBuffer())
    expect(cleaned).toMatchObject({ ok: true, value: { width: 1600, height: 400 } })
    const small = await cleanPhoto(await plain(40, 30).png().toBuffer())
    expect(small).toMatchObject({ ok: true, value: { width: 40, height: 30 } })
  })

  test('is known by its content, not by its name', async () => {
    const drawing = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')
    const moving = await plain(9, 9).gif().toBuffer()
    const cut = (await fromPhone(300, 200)).subarray(0, 700)
    for (const upload of [drawing, moving, cut, Buffer.from('<script>'), Buffer.alloc(0)]) {
      expect(await cleanPhoto(upload)).toEqual({ ok: false, refusal: { kind: 'not-a-photo' } })
    }
  })

  test('is refused when it is larger than a phone makes them', async () => {
    expect(await cleanPhoto(Buffer.alloc(mostUploadBytes + 1))).toEqual({
      ok: false,
      refusal: { kind: 'photo-too-large', mostMegabytes: 8 },
    })
  })
})

const key = () => ({ groupId: randomUUID(), photoId: randomUUID() })

async function keepsPhotos(store: PhotoStore): Promise<void> {
  const [one, other] = [key(), key()]
  expect(await store.get(one)).toBeNull()
  await store.put(one, Buffer.from('first'))
  await store.put(one, Buffer.from('second'))
  await store.put(other, Buffer.from('other'))
  expect(Buffer.from((await store.get(one)) ?? []).toString()).toBe('second')
  await store.remove(one)
  await store.remove(one)
  expect(await store.get(one)).toBeNull()
  expect(Buffer.from((await store.get(other)) ?? []).toString()).toBe('other')
}

/** As much of S3 as keeping pictures needs, over HTTP, in memory. Refuses requests that nobody signed. */
async function smallStorage() {
  const objects = new Map<string, Buffer>()
  const read = async (request: IncomingMessage) => {
    const chunks: Buffer[] = []
    for await (const chunk of request) chunks.push(chunk as Buffer)
    return Buffer.concat(chunks)
  }
  const server = createServer(async (request, response) => {
    const body = await read(request)
    const path = new URL(request.url ?? '/', 'http://here').pathname
    if (!request.headers.authorization?.startsWith('AWS4-HMAC-SHA256 Credential=key/')) {
      response.writeHead(403).end()
    } else if (request.method === 'PUT') {
      objects.set(path, body)
      response.writeHead(200).end()
    } else if (request.method === 'DELETE') {
      objects.delete(path)
      response.writeHead(204).end()
    } else {
      const found = objects.get(path)
      if (found) response.writeHead(200, { 'content-type': 'image/jpeg' }).end(found)
      else
        response
          .writeHead(404, { 'content-type': 'application/xml' })
          .end('<?xml version="1.0"?><Error><Code>NoSuchKey</Code><Message>None</Message></Error>')
    }
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  return {
    endpoint: `http://127.0.0.1:${port}`,
    objects,
    stop: () => {
      server.closeAllConnections()
      return new Promise((resolve) => server.close(resolve))
    },
  }
}

describe('the photo store', () => {
  test('keeps pictures in a folder', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'tallywood-photos-'))
    try {
      await keepsPhotos(diskPhotos(folder))
      const files = (await readdir(folder, { recursive: true })).filter((name) => name.includes('.'))
      expect(files).toHaveLength(1)
      expect(files[0]).toMatch(/\.jpg$/)
    } finally {
      await rm(folder, { recursive: true })
    }
  })

  test('keeps pictures in storage that speaks S3', async () => {
    const storage = await smallStorage()
    const settings = {
      bucket: 'wood',
      endpoint: storage.endpoint,
      region: 'us-east-1',
      accessKeyId: 'key',
      secretAccessKey: 'hush',
    }
    try {
      await keepsPhotos(s3Photos(settings))
      expect([...storage.objects.keys()]).toEqual([
        expect.stringMatching(/^\/wood\/[0-9a-f-]{36}\/[0-9a-f-]{36}\.jpg$/),
      ])
      const stranger = s3Photos({ ...settings, accessKeyId: 'stranger' })
      await expect(stranger.get(key())).rejects.toThrow()
    } finally {
      await storage.stop()
    }
  })

  test('takes no name that leads elsewhere', () => {
    expect(() => photoPath({ groupId: '../..', photoId: randomUUID() })).toThrow(RangeError)
  })
})
