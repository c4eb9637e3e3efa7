import { describe, expect, test } from 'vitest'
import { type CaredFor, careOf, isAskedFor } from '#lib/care/care-of.ts'
import type { CareAnswerView } from '#lib/care/view.ts'
import { civilDate } from '#lib/kernel/civil-date.ts'

const cleft = (fields: Partial<CaredFor> = {}): CaredFor => ({
  method: 'cleft',
  wrap: 'tape',
  madeOn: civilDate('2026-04-01'),
  hemisphere: 'north',
  isAnyAlive: true,
  ...fields,
})

const said = (answer: CareAnswerView['answer'], until: string | null = null): CareAnswerView => ({
  answer,
  reason: null,
  until: until === null ? null : civilDate(until),
  on: civilDate('2026-06-01'),
  by: 'Wren',
})

const none = new Map<string, CareAnswerView>()
const care = (of: CaredFor, today: string, answers: ReadonlyMap<string, CareAnswerView> = none) =>
  careOf(of, answers, civilDate(today))
const find = (views: ReturnType<typeof careOf>, id: string) => views.find(({ task }) => task.id === id)

describe('the care of a batch', () => {
  test('is nothing when nothing is alive', () => {
    expect(care(cleft({ isAnyAlive: false }), '2026-06-20')).toEqual([])
  })

  test('shows an overdue tie of string strongly, and one of tape not', () => {
    const overdue = '2026-06-11'
    expect(find(care(cleft({ wrap: 'string' }), overdue), 'release-tie')?.state).toBe('overdue-strong')
    expect(find(care(cleft({ wrap: 'nylon' }), overdue), 'release-tie')?.state).toBe('overdue-strong')
    expect(find(care(cleft(), overdue), 'release-tie')?.state).toBe('overdue')
    expect(find(care(cleft({ wrap: null }), overdue), 'release-tie')?.state).toBe('overdue')
    expect(find(care(cleft({ wrap: 'wax' }), overdue), 'release-tie')).toBeUndefined()
  })

  test('moves what was put off, and settles what was done or is not needed', () => {
    const put = care(cleft(), '2026-06-20', new Map([['release-tie', said('deferred', '2026-07-01')]]))
    expect(find(put, 'release-tie')).toMatchObject({ state: 'coming', dueOn: '2026-07-01' })
    for (const answer of ['done', 'not_needed'] as const) {
      const settled = care(cleft(), '2026-06-20', new Map([['release-tie', said(answer)]]))
      expect(find(settled, 'release-tie')?.state).toBe('settled')
    }
  })

  test('asks for the newest of what comes round again, not for those that were missed', () => {
    const views = care(cleft(), '2026-06-05')
    const rubbing = views.filter(({ task }) => task.id.startsWith('rub-shoots'))
    expect(rubbing.slice(0, 4).map(({ state }) => state)).toEqual(['passed', 'passed', 'open', 'coming'])
    expect(rubbing.filter((view) => isAskedFor(view, civilDate('2026-06-05')))).toHaveLength(1)
  })

  test('asks for no rubbing after the season, when the last turn has passed', () => {
    const views = care(cleft(), '2026-12-01')
    expect(views.filter(({ task }) => task.id.startsWith('rub-shoots')).at(-1)?.state).toBe('passed')
  })

  test('does not nag for ever, but longer about a tie that may strangle', () => {
    const asked = (wrap: string, today: string) =>
      care(cleft({ wrap }), today)
        .filter((view) => isAskedFor(view, civilDate(today)))
        .map(({ task }) => task.id)
    expect(asked('tape', '2026-07-20')).toContain('release-tie')
    expect(asked('tape', '2026-08-01')).not.toContain('release-tie')
    expect(asked('string', '2026-12-01')).toContain('release-tie')
    expect(asked('string', '2027-07-01')).not.toContain('release-tie')
  })

  test('of a method that is not in the table any more is that of a plain graft', () => {
    expect(find(care(cleft({ method: 'forgotten' }), '2026-04-01'), 'label')?.state).toBe('open')
  })
})
