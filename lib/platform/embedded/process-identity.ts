import { readFileSync } from 'node:fs'

/** True while a process of that number exists, whoever owns it. */
export function isProcessAlive(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}

function readOrNull(path: string): string | null {
  try {
    return readFileSync(path, 'utf8')
  } catch {
    return null
  }
}

/**
 * What tells a process from a later one of the same number: when it started, in which boot of the machine.
 * Null where the system does not say (anything but Linux).
 */
export function processIdentity(pid: number): string | null {
  const stat = readOrNull(`/proc/${pid}/stat`)
  const boot = readOrNull('/proc/sys/kernel/random/boot_id')
  if (stat === null || boot === null) return null
  // The command's name may hold spaces and brackets; the fields are counted from behind it.
  const startedTicks = stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19]
  return `${boot.trim()} ${startedTicks}`
}

/** The program's short name, where the system says. */
export const processName = (pid: number): string | null => readOrNull(`/proc/${pid}/comm`)?.trim() ?? null
