const outline =
  'M0 1h14v9H0zM16 1h4v9h-4zM22 1h4v9h-4zM28 1h12l-4.5 9H28zM8 12h6v9H8zM16 12h4v9h-4zM22 12h4v9h-4zM28 12h6.5l-4.5 9h-2z'

/** The mark: a tally stick split in two, the longer half above. At least 26 px wide. */
export function SplitTally({ width = 38 }: { width?: number }) {
  return (
    <svg
      width={width}
      height={Math.round(width * 5.5) / 10}
      viewBox="0 0 40 22"
      aria-hidden="true"
      focusable="false"
    >
      <path d={outline} />
    </svg>
  )
}

/** The mark for a browser's tab, in the ink of a light or of a dark one. */
export const tabIcon = `data:image/svg+xml,${encodeURIComponent(
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 -9 40 40"><style>path{fill:#1b221d}@media(prefers-color-scheme:dark){path{fill:#e9eee5}}</style><path d="${outline}"/></svg>`,
)}`
