import { nextProgram } from '../build-pages.ts'
import { type Child, startNode } from '../child.ts'
import { Stop } from '../steps.mjs'

const answersWithinMs = 120_000

export interface WebServerOptions {
  readonly isDev: boolean
  readonly port: number
  readonly env: NodeJS.ProcessEnv
}

/** Starts Next over the built pages (or from the sources). Its words are shown once it has begun to serve. */
export function startWebServer({ isDev, port, env }: WebServerOptions): Child {
  let isTalking = isDev
  let early = ''
  const child = startNode([nextProgram, isDev ? 'dev' : 'start', '-p', String(port)], {
    env: { ...env, PORT: String(port), NEXT_TELEMETRY_DISABLED: '1' },
    output: 'keep',
    onOutput: (text) => {
      if (isTalking) process.stderr.write(text)
      // Next prints a banner with addresses of its own; what it says in trouble is kept for the person.
      else early += text
      if (/Ready in|✓ Ready/.test(early)) isTalking = true
    },
  })
  void child.ended.then((code) => {
    if (code && !isTalking) process.stderr.write(early)
  })
  return child
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
