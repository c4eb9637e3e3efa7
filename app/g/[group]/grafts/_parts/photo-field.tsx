/** A photo taken now or chosen. Whatever the phone wrote into it, such as the place, is left behind. */
export function PhotoField() {
  return (
    <div className="field">
      <label htmlFor="photo">Photo</label>
      <span className="help" id="photo-help">
        JPEG, PNG or WebP, up to 8 MB. The place and everything else that the phone wrote into it is left out.
      </span>
      <input
        id="photo"
        name="photo"
        type="file"
        accept="image/jpeg,image/png,image/webp"
        aria-describedby="photo-help"
        className="in"
      />
    </div>
  )
}
