import {
  DeleteObjectCommand,
  GetObjectCommand,
  NoSuchKey,
  PutObjectCommand,
  S3Client,
} from '@aws-sdk/client-s3'
import { type PhotoStore, photoPath } from '#lib/platform/photos/photo-store.ts'

export interface S3Settings {
  readonly bucket: string
  /** Null for the provider's own address of the region. */
  readonly endpoint: string | null
  readonly region: string
  readonly accessKeyId: string
  readonly secretAccessKey: string
}

/** Pictures in a bucket of any storage that speaks S3. Nothing in it has to be public. */
export function s3Photos(settings: S3Settings): PhotoStore {
  const { bucket: Bucket, endpoint, region, accessKeyId, secretAccessKey } = settings
  const client = new S3Client({
    region,
    credentials: { accessKeyId, secretAccessKey },
    ...(endpoint ? { endpoint, forcePathStyle: true } : {}),
    // Other makers' storage often knows no checksums in trailers.
    requestChecksumCalculation: 'WHEN_REQUIRED',
    responseChecksumValidation: 'WHEN_REQUIRED',
  })
  return {
    async put(key, bytes) {
      await client.send(
        new PutObjectCommand({ Bucket, Key: photoPath(key), Body: bytes, ContentType: 'image/jpeg' }),
      )
    },
    async get(key) {
      try {
        const answer = await client.send(new GetObjectCommand({ Bucket, Key: photoPath(key) }))
        return answer.Body ? await answer.Body.transformToByteArray() : null
      } catch (error) {
        if (error instanceof NoSuchKey) return null
        throw error
      }
    },
    async remove(key) {
      await client.send(new DeleteObjectCommand({ Bucket, Key: photoPath(key) }))
    },
  }
}
