import { describe, expect, test } from 'vitest'
import { addSums, sumLine, sumReport } from '../../../scripts/vitest.ts'

const file = (status: string, ...tests: string[]) => ({
  status,
  assertionResults: tests.map((one) => ({ status: one })),
})

describe('the closing line of the tests', () => {
  test('adds up files, and says nothing of skipped tests when there are none', () => {
    const report = {
      success: false,
      testResults: [file('passed', 'passed', 'passed'), file('failed', 'failed', 'passed')],
    }
    expect(sumLine(sumReport(report))).toBe('3 passed, 1 failed')
  })

  test('counts a file that could not be read, or did not clean up, as a failure', () => {
    const report = { success: false, testResults: [file('failed'), file('failed', 'passed')] }
    expect(sumReport(report)).toEqual({ passed: 1, failed: 2, skipped: 0 })
  })

  test('never calls a run that failed as a whole a success', () => {
    expect(sumReport({ success: false, testResults: [file('passed', 'passed')] }).failed).toBe(1)
  })

  test('names what was left out', () => {
    const report = { success: true, testResults: [file('passed', 'passed', 'pending', 'todo')] }
    expect(sumLine(addSums(sumReport(report), { passed: 2, failed: 0, skipped: 0 }))).toBe(
      '3 passed, 0 failed, 2 skipped',
    )
  })
})
