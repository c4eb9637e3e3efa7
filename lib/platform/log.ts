import { isProductionRun } from '#lib/platform/env.ts'

/** What goes into a line of the log besides its message. Never names, addresses or texts that people wrote. */
export type LogFields = Readonly<Record<string, unknown>>

type Level = 'info' | 'warn' | 'error'

function plainError(error: unknown): unknown {
  if (!(error instanceof Error)) return error
  const { name, message, stack, cause } = error
  const digest = 'digest' in error ? { digest: error.digest } : {}
  return { name, message, ...digest, stack, ...(cause === undefined ? {} : { cause: plainError(cause) }) }
}

const plainField = (value: unknown): unknown => {
  if (value instanceof Error) return plainError(value)
  return typeof value === 'bigint' ? value.toString() : value
}

/** One line for machines: a JSON object. */
export function jsonLine(level: Level, message: string, fields: LogFields, at: Date): string {
  return JSON.stringify({ at: at.toISOString(), level, message, ...fields }, (_key, value: unknown) =>
    plainField(value),
  )
}

/** A line for a person at a terminal; an error's stack follows on lines of its own. */
export function plainLine(level: Level, message: string, fields: LogFields): string {
  const parts: string[] = []
  const stacks: string[] = []
  for (const [key, value] of Object.entries(fields)) {
    if (value instanceof Error) stacks.push(value.stack ?? String(value))
    else parts.push(`${key}=${typeof value === 'string' ? value : JSON.stringify(plainField(value))}`)
  }
  return [[level === 'info' ? '' : `${level}:`, message, ...parts].filter(Boolean).join(' '), ...stacks].join(
    '\n',
  )
}

function write(level: Level, message: string, fields: LogFields = {}): void {
  const line = isProductionRun()
    ? jsonLine(level, message, fields, new Date())
    : plainLine(level, message, fields)
  process.stderr.write(`${line}\n`)
}

/** The server's log, on standard error: JSON lines in production, plain ones in development. */
export const log = {
  info: (message: string, fields?: LogFields): void => write('info', message, fields),
  warn: (message: string, fields?: LogFields): void => write('warn', message, fields),
  error: (message: string, fields?: LogFields): void => write('error', message, fields),
}
