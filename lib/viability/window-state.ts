import type { ViabilityWindow } from '#lib/viability/viability-window.ts'

/** Where a lot stands in its window: good · use soon · test first · past (test before use; never discarded unasked). */
export type WindowState = 'good' | 'soon' | 'test' | 'past'

/** The state at an instant. A limit belongs to what comes after it. */
export function windowState(
  window: Pick<ViabilityWindow, 'early' | 'likely' | 'late'>,
  instant: Date,
): WindowState {
  if (instant < window.early.at) return 'good'
  if (instant < window.likely.at) return 'soon'
  return instant < window.late.at ? 'test' : 'past'
}
