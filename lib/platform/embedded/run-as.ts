import { spawnSync } from 'node:child_process'
import type { ServerUser } from './system-user.ts'

/** A command line, and the user to start it as. */
export interface Launch {
  readonly file: string
  readonly args: readonly string[]
  readonly user: { readonly uid?: number; readonly gid?: number }
}

/** Turns a program and its arguments into what `spawn` gets. */
export type RunAs = (file: string, args: readonly string[]) => Launch

const canWork = (launch: Launch): boolean =>
  spawnSync(launch.file, [...launch.args], { ...launch.user, stdio: 'ignore' }).status === 0

/**
 * How to start the server's programs as `user`. Where the folders above the checkout are closed to that user
 * (a checkout in root's home, say), the programs get the one capability of passing closed folders. Null when
 * neither way works.
 */
export function chooseRunAs(user: ServerUser | null, program: string, folder: string): RunAs | null {
  if (!user) return (file, args) => ({ file, args, user: {} })
  const plain: RunAs = (file, args) => ({ file, args, user: { uid: user.uid, gid: user.gid } })
  const passing: RunAs = (file, args) => ({
    file: 'setpriv',
    args: [
      `--reuid=${user.uid}`,
      `--regid=${user.gid}`,
      '--clear-groups',
      '--inh-caps=+dac_override',
      '--ambient-caps=+dac_override',
      file,
      ...args,
    ],
    user: {},
  })
  const ways = [plain, passing]
  return (
    ways.find(
      (way) => canWork(way(program, ['--version'])) && canWork(way('/bin/sh', ['-c', 'cd "$0"', folder])),
    ) ?? null
  )
}
