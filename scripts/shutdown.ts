/** What has to be put away when this program ends, the last first. */
const stack: (() => void | Promise<void>)[] = []

let stopping: Promise<void> | null = null

/** True from the moment somebody asked this program to stop: failures after that are only its echo. */
export const isStopping = (): boolean => stopping !== null

/** Has `work` done when this program ends, before all that was registered earlier. */
export function onShutdown(work: () => void | Promise<void>): void {
  stack.push(work)
}

/** Puts everything away, once. */
export function shutDown(): Promise<void> {
  stopping ??= (async () => {
    for (let work = stack.pop(); work; work = stack.pop()) await work()
  })()
  return stopping
}

/** Ends this program in order when it is asked to. `exitCode` is asked at that moment. */
export function stopOnSignals(exitCode: () => number): void {
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
    process.on(signal, () => {
      if (isStopping()) return
      const code = exitCode()
      console.log('\nStopping …')
      shutDown().then(
        () => {
          console.log('Stopped.')
          process.exit(code)
        },
        (error: unknown) => {
          console.error(error)
          process.exit(1)
        },
      )
    })
  }
}
