import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { lockFolder } from '#lib/platform/embedded/folder-lock.ts'
import { findFreePort, isPortFree } from '#lib/platform/embedded/free-port.ts'
import { isProcessAlive } from '#lib/platform/embedded/process-identity.ts'

const folder = mkdtempSync(join(tmpdir(), 'tallywood-lock-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('a folder’s lock', () => {
  test('is refused while another process holds it, and names that one', () => {
    const file = join(folder, 'held')
    writeFileSync(
      file,
      JSON.stringify({ pid: process.ppid, identity: null, address: 'http://localhost:3000' }),
    )
    const answer = lockFolder(file, 'http://localhost:3001')
    expect(answer).toMatchObject({
      ok: false,
      holder: { pid: process.ppid, address: 'http://localhost:3000' },
    })
  })

  test('is taken over from a process that is gone', () => {
    const file = join(folder, 'left')
    const { pid } = spawnSync(process.execPath, ['-e', ''])
    writeFileSync(file, JSON.stringify({ pid, identity: null, address: 'x' }))
    const answer = lockFolder(file, 'http://localhost:3001')
    expect(answer.ok).toBe(true)
    expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({ pid: process.pid })
  })

  test('is taken over when its number has gone to another process', () => {
    const file = join(folder, 'reused')
    writeFileSync(file, JSON.stringify({ pid: process.ppid, identity: 'another boot 1', address: 'x' }))
    expect(lockFolder(file, 'http://localhost:3001').ok).toBe(true)
  })

  test('that is no lock at all is replaced, and can be released', () => {
    const file = join(folder, 'torn')
    writeFileSync(file, '{"pid":')
    const answer = lockFolder(file, 'x')
    if (!answer.ok) throw new Error('the torn lock was taken for a lock')
    answer.release()
    expect(() => readFileSync(file)).toThrow(/ENOENT/)
  })
})

describe('ports and processes', () => {
  test('a port that something listens on is not free', async () => {
    const port = await findFreePort()
    expect(await isPortFree(port, '127.0.0.1')).toBe(true)
    const server = createServer().listen(port, '127.0.0.1')
    await new Promise((resolve) => server.once('listening', resolve))
    expect(await isPortFree(port, '127.0.0.1')).toBe(false)
    await new Promise((resolve) => server.close(resolve))
  })

  test('this process is alive and one that has ended is not', () => {
    expect(isProcessAlive(process.pid)).toBe(true)
    const { pid } = spawnSync(process.execPath, ['-e', ''])
    expect(isProcessAlive(pid ?? 0)).toBe(false)
  })
})
