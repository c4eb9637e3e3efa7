import { type ChildProcess, spawn } from 'node:child_process'
import { watchOver } from '#lib/platform/embedded/watchdog.ts'
import { root } from './root.ts'

const giveUpAfterMs = 10_000

/** A program that was started, in a process group of its own, and is ended with all that it started itself. */
export interface Child {
  readonly process: ChildProcess
  /** The exit code once it has ended; null when a signal ended it. */
  readonly ended: Promise<number | null>
  /** Asks it to stop, waits, and makes it if it will not. */
  readonly stop: () => Promise<void>
}

export interface ChildOptions {
  readonly env?: NodeJS.ProcessEnv
  /** `show` passes its output on; `keep` collects it for `onOutput`. */
  readonly output: 'show' | 'keep'
  readonly onOutput?: (text: string) => void
}

/** Starts a Node program of the packages or of this repository. */
export function startNode(args: readonly string[], options: ChildOptions): Child {
  const stdio = options.output === 'show' ? 'inherit' : 'pipe'
  const child = spawn(process.execPath, [...args], {
    cwd: root,
    env: options.env ?? process.env,
    stdio: ['ignore', stdio, stdio],
    detached: true,
  })
  const pid = child.pid
  const callOff = pid ? watchOver({ pid, isGroup: true, signal: 'TERM' }) : () => {}
  child.stdout?.on('data', (chunk) => options.onOutput?.(String(chunk)))
  child.stderr?.on('data', (chunk) => options.onOutput?.(String(chunk)))
  let isOver = false
  const ended = new Promise<number | null>((resolve, reject) => {
    child.once('error', reject)
    child.once('close', (code) => {
      isOver = true
      callOff()
      resolve(code)
    })
  })
  const stop = async () => {
    if (isOver || !pid) return
    signalGroup(pid, 'SIGTERM')
    const force = setTimeout(() => signalGroup(pid, 'SIGKILL'), giveUpAfterMs)
    await ended
    clearTimeout(force)
  }
  return { process: child, ended, stop }
}

function signalGroup(pid: number, signal: NodeJS.Signals): void {
  try {
    process.kill(-pid, signal)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error
  }
}
