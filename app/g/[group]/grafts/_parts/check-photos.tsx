import { removePhotoAction } from '#app/g/[group]/grafts/actions.ts'
import type { PhotoView } from '#lib/attempts/view.ts'

interface CheckPhotosProps {
  readonly slug: string
  readonly photos: readonly PhotoView[]
  readonly mayRemove: boolean
}

/** The photos of a look, small; each opens large. */
export function CheckPhotos({ slug, photos, mayRemove }: CheckPhotosProps) {
  return (
    <ul className="flex flex-wrap gap-4">
      {photos.map(({ id, width, height }, i) => {
        const src = `/g/${slug}/grafts/photos/${id}`
        return (
          <li key={id} className="stack-s">
            <a href={src}>
              {/* biome-ignore lint/performance/noImgElement: the picture is behind a check of who asks */}
              <img
                src={src}
                alt={`What was seen at this look, ${i + 1} of ${photos.length}`}
                width={width}
                height={height}
                loading="lazy"
                className="h-32 w-auto max-w-full object-cover"
              />
            </a>
            {mayRemove && (
              <form action={removePhotoAction}>
                <input type="hidden" name="group" value={slug} />
                <input type="hidden" name="photoId" value={id} />
                <button type="submit" className="btn plain small">
                  Remove photo {i + 1}
                </button>
              </form>
            )}
          </li>
        )
      })}
    </ul>
  )
}
