import { Stop } from '../steps.mjs'

/** The address of a database without its password. */
export function withoutPassword(url: string): string {
  const parsed = new URL(url)
  parsed.password = ''
  return parsed.toString()
}

const sentences: Readonly<Record<string, (where: string) => string>> = {
  ECONNREFUSED: (where) =>
    `No database server answers at ${where}. Is it running, and are host and port right?`,
  ENOTFOUND: (where) => `The host in ${where} is unknown. Is its name right?`,
  EAI_AGAIN: (where) =>
    `The host in ${where} could not be looked up. Is the network up, and is the name right?`,
  ETIMEDOUT: (where) => `The database server at ${where} does not answer in time. Is a firewall between?`,
  EHOSTUNREACH: (where) => `The database server at ${where} cannot be reached.`,
  '28P01': (where) => `The database server does not accept the user or the password in ${where}.`,
  '28000': (where) => `The database server does not let this user in from here (${where}).`,
  '3D000': (where) =>
    `The database in ${where} does not exist. Create it first: createdb, or “create database”.`,
  '53300': (where) => `The database server at ${where} has no connection to spare.`,
  '57P03': (where) => `The database server at ${where} is still starting. Try again in a moment.`,
  '42501': (where) => `The user in ${where} may not change that database. Tallywood needs its owner.`,
}

const sentenceErrors = ['ApplicationRoleError', 'MigrationError', 'EmbeddedServerError']

/**
 * Turns what a database refused into a `Stop` with one sentence, where it is the sort of thing that a person can
 * mend; any other error comes back unchanged.
 */
export function explainDatabase(error: unknown, url: string): unknown {
  if (!(error instanceof Error)) return error
  if (sentenceErrors.includes(error.name)) return new Stop(error.message)
  const inner = error instanceof AggregateError ? error.errors[0] : error
  const code = (inner as { code?: string }).code ?? ''
  const sentence = sentences[code]
  if (sentence) return new Stop(`${sentence(withoutPassword(url))} (DATABASE_URL)`)
  if (/timeout|timed out/i.test(error.message)) {
    return new Stop(`The database server at ${withoutPassword(url)} does not answer in time. (DATABASE_URL)`)
  }
  if (/SSL/i.test(error.message)) {
    return new Stop(
      `The database server at ${withoutPassword(url)} and Tallywood do not agree on encryption: ${error.message}. (DATABASE_URL)`,
    )
  }
  return error
}
