import { knifeCaution } from '#lib/grafting/methods.ts'

/** The usual caution beside a form about work with a knife. */
export function KnifeCaution() {
  return (
    <aside className="panel quiet" aria-label="Care with the knife">
      <p className="note">{knifeCaution}</p>
      <p className="note">
        If you cut yourself, stop and press on the wound. Follow the first-aid advice of the place you are in,
        and get help for a deep one.
      </p>
    </aside>
  )
}
