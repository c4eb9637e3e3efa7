import { Prisma } from '#lib/platform/generated/client.ts'

/** The refusals of our own SQL, by SQLSTATE. */
export const ledgerStates = {
  appendOnly: 'TW001',
  originIsFixed: 'TW002',
  notEnoughSticks: 'TW010',
  notEnoughShares: 'TW011',
  capPerMember: 'TW012',
  capPerVariety: 'TW013',
  claimsNotOpen: 'TW014',
  held: 'TW015',
  protectedVariety: 'TW016',
  notSharedHere: 'TW017',
  keyReused: 'TW018',
  notFound: 'TW019',
  circularLineage: 'TW020',
  alreadyClaimed: 'TW021',
  wrongState: 'TW022',
  tooManyCauses: 'TW023',
  unnamedWood: 'TW024',
  notYetNoShow: 'TW025',
  placeIsGone: 'TW026',
  alreadyWaiting: 'TW027',
  sharesAreFree: 'TW028',
} as const

export interface DatabaseError {
  readonly sqlstate: string
  /** The constraint that refused, where the server says it. */
  readonly constraint: string | null
  readonly message: string
  /** The JSON object that our own refusals carry in DETAIL; empty otherwise. */
  readonly detail: Readonly<Record<string, unknown>>
  /** Serialization failure or deadlock: the same transaction may succeed when run again. */
  readonly retryable: boolean
}

/**
 * What PostgreSQL refused, out of whichever wrapping `pg` or Prisma put around it; null when the error is not
 * the database's. The only place that looks inside those errors: their shape is not public and has moved.
 */
export function databaseErrorOf(error: unknown): DatabaseError | null {
  if (!(error instanceof Error)) return null
  const cause = driverCauseOf(error)
  if (!cause) return null
  const sqlstate = textOf(cause['originalCode']) ?? textOf(cause['code'])
  if (!sqlstate || !/^[0-9A-Z]{5}$/.test(sqlstate)) return null
  const message = textOf(cause['originalMessage']) ?? textOf(cause['message']) ?? error.message
  return {
    sqlstate,
    constraint: constraintOf(cause, message),
    message,
    detail: parseDetail(textOf(cause['detail'])),
    retryable: sqlstate === '40001' || sqlstate === '40P01',
  }
}

type Bag = Readonly<Record<string, unknown>>
const isBag = (value: unknown): value is Bag => typeof value === 'object' && value !== null
const textOf = (value: unknown): string | undefined => (typeof value === 'string' ? value : undefined)

function driverCauseOf(error: Error): Bag | null {
  if (error instanceof Prisma.PrismaClientKnownRequestError) {
    const driver = error.meta?.['driverAdapterError']
    return isBag(driver) && isBag(driver['cause']) ? driver['cause'] : null
  }
  if (error.name === 'DriverAdapterError' && isBag(error.cause)) return error.cause
  if ('code' in error && 'severity' in error) return { ...error, message: error.message }
  return null
}

function constraintOf(cause: Bag, message: string): string | null {
  const named = cause['constraint']
  if (typeof named === 'string') return named
  if (isBag(named)) {
    const index = named['index']
    if (typeof index === 'string') return index
  }
  return /constraint "([^"]+)"/.exec(message)?.[1] ?? null
}

function parseDetail(detail: string | undefined): Bag {
  if (!detail?.startsWith('{')) return {}
  const parsed: unknown = JSON.parse(detail)
  return isBag(parsed) ? parsed : {}
}
