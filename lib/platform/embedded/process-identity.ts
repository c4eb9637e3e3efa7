import { readFileSync } from 'node:fs'

function readOrNull(path: string): string | null {
  try {
    return readFileSync(path, 'utf8')
  } catch {
    return null
  }
}

/** What the system says of a process behind its number and name: its state first. Null outside Linux. */
function statusFields(pid: number): readonly string[] | null {
  const stat = readOrNull(`/proc/${pid}/stat`)
  // The name may hold spaces and brackets itself; the fields are counted from behind the last one.
  return stat?.slice(stat.lastIndexOf(')') + 2).split(' ') ?? null
}

/** True while a process of that number runs, whoever owns it. */
export function isProcessAlive(pid: number): boolean {
  try {
    process.kill(pid, 0)
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
  // One that has ended keeps its number until its parent asks; in a container nobody may ever do so.
  return statusFields(pid)?.[0] !== 'Z'
}

/** When a process started, in ticks since the machine did. Null where the system does not say (outside Linux). */
export const processStart = (pid: number): string | null => statusFields(pid)?.[19] ?? null

/** What tells a process from a later one of the same number: its start, in which boot of the machine. */
export function processIdentity(pid: number): string | null {
  const start = processStart(pid)
  const boot = readOrNull('/proc/sys/kernel/random/boot_id')
  return start === null || boot === null ? null : `${boot.trim()} ${start}`
}

/** The program's short name, where the system says. */
export const processName = (pid: number): string | null => readOrNull(`/proc/${pid}/comm`)?.trim() ?? null
