import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { z } from 'zod'
import { startNode } from './child.ts'
import { root } from './root.ts'
import { onShutdown } from './shutdown.ts'

export interface TestSum {
  readonly passed: number
  readonly failed: number
  readonly skipped: number
}

const Report = z.object({
  success: z.boolean(),
  testResults: z.array(
    z.object({
      status: z.string(),
      assertionResults: z.array(z.object({ status: z.string() })),
    }),
  ),
})

/**
 * Adds a report up. A file that failed although none of its tests did (it could not be read, or did not clean up
 * behind itself) counts as one failure, and so does a run that failed beside its files.
 */
export function sumReport(report: unknown): TestSum {
  const { success, testResults } = Report.parse(report)
  let passed = 0
  let failed = 0
  let skipped = 0
  for (const file of testResults) {
    const count = (status: string) => file.assertionResults.filter((test) => test.status === status).length
    const failedHere = count('failed')
    passed += count('passed')
    failed += failedHere === 0 && file.status === 'failed' ? 1 : failedHere
    skipped += file.assertionResults.length - count('passed') - failedHere
  }
  return { passed, failed: failed === 0 && !success ? 1 : failed, skipped }
}

export const addSums = (a: TestSum, b: TestSum): TestSum => ({
  passed: a.passed + b.passed,
  failed: a.failed + b.failed,
  skipped: a.skipped + b.skipped,
})

/** `12 passed, 0 failed`, and how many were skipped if any were. */
export const sumLine = ({ passed, failed, skipped }: TestSum): string =>
  `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`

/** Runs vitest with its usual words on the terminal, and adds up what it found. */
export async function runTests(args: readonly string[]): Promise<TestSum> {
  const folder = mkdtempSync(join(tmpdir(), 'tallywood-report-'))
  const file = join(folder, 'report.json')
  try {
    const child = startNode(
      [
        join(root, 'node_modules', 'vitest', 'vitest.mjs'),
        'run',
        '--reporter=default',
        '--reporter=json',
        `--outputFile.json=${file}`,
        ...args,
      ],
      { output: 'show' },
    )
    onShutdown(child.stop)
    const code = await child.ended
    if (!existsSync(file)) {
      console.error(`The tests ended without a report (${code ?? child.process.signalCode}): a failure.`)
      return { passed: 0, failed: 1, skipped: 0 }
    }
    const sum = sumReport(JSON.parse(readFileSync(file, 'utf8')))
    return code !== 0 && sum.failed === 0 ? { ...sum, failed: 1 } : sum
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
