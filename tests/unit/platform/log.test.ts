import { describe, expect, test } from 'vitest'
import { jsonLine, plainLine } from '#lib/platform/log.ts'

const at = new Date('2026-02-03T04:05:06Z')

describe('a line of the log', () => {
  test('is one JSON object for machines, errors unfolded with cause and digest', () => {
    const error = Object.assign(new Error('no wood', { cause: new TypeError('no tree') }), { digest: '42' })
    const line = jsonLine('error', 'a page failed', { path: '/wood', sticks: 3n, error }, at)
    expect(line).not.toContain('\n')
    expect(JSON.parse(line)).toMatchObject({
      at: '2026-02-03T04:05:06.000Z',
      level: 'error',
      message: 'a page failed',
      path: '/wood',
      sticks: '3',
      error: {
        name: 'Error',
        message: 'no wood',
        digest: '42',
        cause: { name: 'TypeError', message: 'no tree' },
      },
    })
  })

  test('is plain for people, with the stack below', () => {
    expect(plainLine('info', 'mail sent', { count: 2, to: 'outbox' })).toBe('mail sent count=2 to=outbox')
    expect(plainLine('warn', 'slow', { error: new Error('why') })).toMatch(/^warn: slow\nError: why\n {4}at /)
  })
})
