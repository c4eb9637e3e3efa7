/** Where a lot stands in its window: good · use soon · test first · past (test before use; never discarded unasked). */
export type WindowState = 'good' | 'soon' | 'test' | 'past'

/** The limits of a window, as instants or as days of the calendar. */
export interface WindowLimits<Moment extends Date | string> {
  readonly early: Moment
  readonly likely: Moment
  readonly late: Moment
}

/** The state at a moment. A limit belongs to what comes after it. */
export function windowState<Moment extends Date | string>(
  limits: WindowLimits<Moment>,
  moment: Moment,
): WindowState {
  if (moment < limits.early) return 'good'
  if (moment < limits.likely) return 'soon'
  return moment < limits.late ? 'test' : 'past'
}
