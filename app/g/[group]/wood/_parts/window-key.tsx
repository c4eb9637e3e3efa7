const patterns = [
  { fill: 'good', word: 'good' },
  { pattern: 'url(#p-soon)', word: 'use soon' },
  { pattern: 'url(#p-test)', word: 'test first' },
] as const

/** What the three parts of a window mean, and what it is worth. */
export function WindowKey() {
  return (
    <div className="stack-s">
      <p className="key">
        {patterns.map((part) => (
          <span key={part.word}>
            <svg width="30" height="12" aria-hidden="true" focusable="false">
              <rect
                width="30"
                height="12"
                {...('fill' in part ? { className: part.fill } : { fill: part.pattern })}
              />
              <rect className="inkline" x=".5" y=".5" width="29" height="11" />
            </svg>
            {part.word}
          </span>
        ))}
      </p>
      <p className="note">
        A window is worked out from the day of cutting and the temperatures since, by a convention fitted to
        sparse trials. It is not a test. Look at the wood before you use or discard it: nick the bark, and
        green is good.
      </p>
    </div>
  )
}
