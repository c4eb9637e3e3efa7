import { spawn } from 'node:child_process'

/**
 * Ends another process should this one die without a chance to do so itself (killed outright, say). The watcher
 * waits on a pipe that the system closes with this process. `target` is a process number, or a negative one for
 * a whole process group. Returns a function that calls the watcher off.
 */
export function watchOver(target: number, signal: 'INT' | 'TERM'): () => void {
  if (process.platform === 'win32') return () => {}
  const watcher = spawn('/bin/sh', ['-c', `read -r _; kill -${signal} ${target} 2>/dev/null`], {
    stdio: ['pipe', 'ignore', 'ignore'],
    detached: true,
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
