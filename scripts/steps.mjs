/** What a person sees while something takes its time: one line per step, with progress and the time it took. */

/** A stop that is no defect: one sentence for the person at the keyboard, no stack. */
export class Stop extends Error {
  /** @param {string} sentence */
  constructor(sentence) {
    super(sentence)
    this.name = 'Stop'
  }
}

const onTerminal = Boolean(process.stdout.isTTY)
const heartbeatMs = 10_000

/** @param {number} sinceMs */
export const seconds = (sinceMs) => {
  const s = (Date.now() - sinceMs) / 1000
  return s < 60 ? `${s.toFixed(1)} s` : `${Math.floor(s / 60)} min ${Math.round(s % 60)} s`
}

/**
 * Runs `work` under a title. On a terminal the line counts along; elsewhere a line is printed at the start,
 * every ten seconds, and at the end.
 * @template T
 * @param {string} title
 * @param {(progress: (text: string) => void) => T | Promise<T>} work
 * @returns {Promise<T>}
 */
export async function step(title, work) {
  const began = Date.now()
  let detail = ''
  const line = () => `${title} … ${detail ? `${detail}, ` : ''}${seconds(began)}`
  const draw = () =>
    process.stdout.write(`\r\x1b[2K  ${line()}`.slice(0, (process.stdout.columns || 100) + 4))
  if (!onTerminal) console.log(`  ${title} …`)
  const timer = setInterval(
    () => (onTerminal ? draw() : console.log(`  ${line()}`)),
    onTerminal ? 200 : heartbeatMs,
  )
  const end = (/** @type {string} */ mark) => {
    clearInterval(timer)
    console.log(`${onTerminal ? '\r\x1b[2K' : ''}${mark} ${title} (${seconds(began)})`)
  }
  try {
    const value = await work((text) => {
      detail = text
    })
    end('✓')
    return value
  } catch (error) {
    end('✗')
    throw error
  }
}

/**
 * Ends the program for an error: a `Stop` with its sentence, anything else with its stack.
 * @param {unknown} error
 * @returns {never}
 */
export function reportAndExit(error) {
  console.error(error instanceof Error && error.name === 'Stop' ? `\n${error.message}` : error)
  process.exit(1)
}
