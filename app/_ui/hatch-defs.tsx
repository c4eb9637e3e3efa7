/** The four hatchings that every chart refers to by id, once a page. */
export function HatchDefs() {
  return (
    <svg className="defs" aria-hidden="true" focusable="false">
      <defs>
        <pattern id="p-soon" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="7" height="7" className="pt-soon" />
          <line x1="0" y1="0" x2="0" y2="7" className="pt-soon-l" />
        </pattern>
        <pattern id="p-test" width="6" height="6" patternUnits="userSpaceOnUse">
          <rect width="6" height="6" className="pt-test" />
          <circle cx="1.5" cy="1.5" r=".9" className="pt-test-d" />
          <circle cx="4.5" cy="4.5" r=".9" className="pt-test-d" />
        </pattern>
        <pattern id="p-as" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">
          <rect width="5" height="5" className="pt-as" />
          <line x1="0" y1="0" x2="0" y2="5" className="pt-as-l" />
        </pattern>
        <pattern id="p-unk" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" y1="0" x2="0" y2="5" className="pt-unk-l" />
        </pattern>
      </defs>
    </svg>
  )
}
