import { format } from 'node:util'
import { afterAll, afterEach } from 'vitest'

/**
 * A complaint on the console fails the test that caused it. A test which expects one replaces `console.error`
 * itself and puts it back.
 */
const complaints: string[] = []
const original = console.error

console.error = (...args: unknown[]) => {
  complaints.push(format(...args))
  original(...args)
}

function failOnComplaints(): void {
  const heard = complaints.splice(0)
  if (heard.length > 0) throw new Error(`console.error was called:\n${heard.join('\n')}`)
}

afterEach(failOnComplaints)

afterAll(() => {
  console.error = original
  failOnComplaints()
})
