/** What every page about sick wood says first. */
export function AuthorityCaution({ region }: { readonly region: string | null }) {
  return (
    <div className="callout">
      <p>
        <b>Do not diagnose quarantine pests yourself.</b> Ask your agricultural authority
        {region ? ` (your region is set to ${region})` : ''}. Ring first, with photographs at hand; do not
        post samples unless they ask for them, and leave the tree as it is until they have answered.
      </p>
      <p className="note">
        A hold is a precaution and says nothing about what is wrong. We do not test wood, and no hold is no
        promise of health.
      </p>
    </div>
  )
}
