import { spawn, spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { isProcessAlive, processStart } from '#lib/platform/embedded/process-identity.ts'

const watchdog = fileURLToPath(new URL('../../../lib/platform/embedded/watchdog.ts', import.meta.url))

/** Starts a process that starts another under watch, says its number, and is killed outright. */
function orphan(isGroup: boolean): number {
  const program = `
    import { spawn } from 'node:child_process'
    import { watchOver } from ${JSON.stringify(watchdog)}
    const { pid } = spawn('sleep', ['60'], { detached: true, stdio: 'ignore' })
    watchOver({ pid, isGroup: ${isGroup}, signal: 'TERM' })
    process.stdout.write(String(pid), () => process.kill(process.pid, 'SIGKILL'))`
  const { stdout, stderr } = spawnSync(
    process.execPath,
    ['--import', 'tsx', '--input-type=module', '--eval', program],
    { encoding: 'utf8', env: { ...process.env, NODE_OPTIONS: '' } },
  )
  const pid = Number(stdout)
  if (!pid) throw new Error(stderr)
  return pid
}

async function ends(pid: number): Promise<boolean> {
  for (let waited = 0; waited < 5_000; waited += 50) {
    if (!isProcessAlive(pid)) return true
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
  return false
}

test.each([true, false])(
  'what a process started does not outlive its sudden end (group: %s)',
  async (isGroup) => {
    expect(await ends(orphan(isGroup))).toBe(true)
  },
)

test('a process is told from another of the same number by when it started', async () => {
  const child = spawn('sleep', ['60'])
  const started = processStart(child.pid ?? 0)
  child.kill('SIGKILL')
  await new Promise((resolve) => child.once('exit', resolve))
  if (process.platform === 'linux') expect(started).toMatch(/^\d+$/)
  else expect(started).toBeNull()
})
