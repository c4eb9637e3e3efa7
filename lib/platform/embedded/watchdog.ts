import { spawn } from 'node:child_process'
import { processStart } from './process-identity.ts'

/**
 * Waits on a pipe that the system closes together with the process at its other end, and then ends the target.
 * The number may have gone to another process by then; that one started at another time and is left alone.
 */
const script = `
  read -r _
  if [ -n "$TARGET_START" ] && read -r line <"/proc/$TARGET_PID/stat"; then
    set -- \${line##*) }
    [ "\${20}" = "$TARGET_START" ] || exit 0
  fi 2>/dev/null
  kill "-$TARGET_SIGNAL" "$TARGET" 2>/dev/null
`

/** What to end, and how: a process, or the whole group that it leads. */
export interface Watched {
  readonly pid: number
  readonly isGroup: boolean
  readonly signal: 'INT' | 'TERM'
}

/**
 * Ends another process should this one die without a chance to do so itself (killed outright, say). Returns a
 * function that calls the watcher off.
 */
export function watchOver({ pid, isGroup, signal }: Watched): () => void {
  if (process.platform === 'win32') return () => {}
  const watcher = spawn('/bin/sh', ['-c', script], {
    stdio: ['pipe', 'ignore', 'ignore'],
    detached: true,
    env: {
      ...process.env,
      TARGET: `${isGroup ? '-' : ''}${pid}`,
      TARGET_PID: String(pid),
      TARGET_SIGNAL: signal,
      TARGET_START: processStart(pid) ?? '',
    },
  })
  watcher.unref()
  // The pipe must stay open without keeping this process alive; a socket can be let go of, a stream cannot.
  const pipe = watcher.stdin as unknown as { unref(): void; on(event: 'error', then: () => void): void }
  pipe.unref()
  pipe.on('error', () => {})
  return () => {
    watcher.kill('SIGKILL')
  }
}
