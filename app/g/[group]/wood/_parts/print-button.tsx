'use client'

import { buttonClass } from '#app/_ui/button-class.ts'
import { useHasScript } from '#app/_ui/form/use-has-script.ts'

/** Opens the browser's own print dialogue; without script it says how to get there. */
export function PrintButton() {
  if (!useHasScript()) return <p className="note">Print this page with your browser.</p>
  return (
    <button type="button" className={buttonClass({ kind: 'first' })} onClick={() => window.print()}>
      Print
    </button>
  )
}
