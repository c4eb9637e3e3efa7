import { memberContext } from '#lib/access/context.ts'
import { readPhoto } from '#lib/attempts/photos.ts'
import { appPhotos } from '#lib/platform/photos/app-photos.ts'

/** A picture, for those of the group who may see what it is of. Everybody else learns that it is not there. */
export async function GET(
  _request: Request,
  context: RouteContext<'/g/[group]/grafts/photos/[photo]'>,
): Promise<Response> {
  const { group: slug, photo } = await context.params
  const { db, actor } = await memberContext(slug)
  const bytes = await readPhoto(db, await appPhotos(), actor, photo)
  if (!bytes) return new Response('There is no such photo.\n', { status: 404 })
  return new Response(new Uint8Array(bytes), {
    headers: {
      'content-type': 'image/jpeg',
      'content-disposition': 'inline; filename="photo.jpg"',
      'content-security-policy': "default-src 'none'; sandbox",
      'cache-control': 'private, max-age=86400',
    },
  })
}
