import { nextProgram } from '../build-pages.ts'
import { type Child, startNode } from '../child.ts'
import { Stop } from '../steps.mjs'

const answersWithinMs = 120_000

export interface WebServerOptions {
  readonly isDev: boolean
  readonly port: number
  readonly env: NodeJS.ProcessEnv
}

/** What Next says about itself whenever it starts; its addresses are not the ones that people should type. */
const banner = /^\s*(▲|✓|- (Local|Network|Environments|Experiments)\b)/

/** Starts Next over the built pages (or from the sources) and shows what it says besides its banner. */
export function startWebServer({ isDev, port, env }: WebServerOptions): Child {
  return startNode([nextProgram, isDev ? 'dev' : 'start', '-p', String(port)], {
    env: { ...env, PORT: String(port), NEXT_TELEMETRY_DISABLED: '1' },
    output: 'keep',
    onOutput: (text) => {
      const kept = isDev
        ? text
        : text.replace(/^.*\n?/gm, (line) => (banner.test(line) || !line.trim() ? '' : line))
      process.stderr.write(kept)
    },
  })
}

/** Waits until the first page answers. `ended` settles if the server ends instead. */
export async function waitForAnswer(port: number, ended: Promise<unknown>): Promise<void> {
  let isOver = false
  void ended.then(() => {
    isOver = true
  })
  const deadline = Date.now() + answersWithinMs
  let last = 'no answer'
  while (Date.now() < deadline) {
    if (isOver) throw new Stop('The web server ended before it answered; what it said is above.')
    try {
      const response = await fetch(`http://127.0.0.1:${port}/`, {
        redirect: 'manual',
        signal: AbortSignal.timeout(answersWithinMs),
      })
      if (response.status < 500) return
      last = `status ${response.status}`
      if (Date.now() > deadline - answersWithinMs + 15_000) break
    } catch (error) {
      last = error instanceof Error ? error.message : String(error)
    }
    await new Promise((resolve) => setTimeout(resolve, 150))
  }
  throw new Stop(`The first page does not answer as it should (${last}); what the server said is above.`)
}
