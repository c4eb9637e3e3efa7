import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Random } from '#lib/kernel/seeded-random.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'
import type { MadeClaim } from '#lib/swaps/claim-offering.ts'
import { type Child, startNode } from '../../scripts/child.ts'
import { root } from '../../scripts/root.ts'

/** A claim that somebody wants to make; sent again it carries the same key. */
export interface Wish {
  readonly groupId: string
  readonly memberId: string
  readonly offeringId: string
  readonly shares: number
  readonly key: string
}

/** What a server process said to one form. */
export type Said =
  | { readonly key: string; readonly yes: MadeClaim }
  | { readonly key: string; readonly no: LedgerRefusal }
  | { readonly key: string; readonly error: string }

/** A server process of a rush. */
export interface Claimants extends Child {
  /** All that it has said so far. */
  readonly said: readonly Said[]
}

/** Every member wants so many of the lots, in no order; some press twice. */
export function wishesOf(
  random: Random,
  people: { readonly groupId: string; readonly memberIds: readonly string[] },
  offeringIds: readonly string[],
  options: { readonly each: number; readonly newId: () => string },
): Wish[] {
  const wishes = people.memberIds.flatMap((memberId) =>
    random
      .shuffle(offeringIds)
      .slice(0, options.each)
      .map((offeringId) => ({
        groupId: people.groupId,
        memberId,
        offeringId,
        shares: random.integer(1, 2),
        key: options.newId(),
      })),
  )
  return random.shuffle([...wishes, ...wishes.filter(() => random.chance(0.1))])
}

/** Lines out of a stream that comes in pieces. */
function lineReader(onLine: (line: string) => void): (text: string) => void {
  let rest = ''
  return (text) => {
    const lines = `${rest}${text}`.split('\n')
    rest = lines.pop() ?? ''
    for (const line of lines) onLine(line)
  }
}

/** Starts a process that sends these claims to the database. The caller waits for its end, or brings it about. */
export function startClaimants(
  url: string,
  wishes: readonly Wish[],
  onSaid: (said: Said) => void = () => {},
): Claimants {
  const folder = mkdtempSync(join(tmpdir(), 'tallywood-claimants-'))
  const file = join(folder, 'wishes.json')
  writeFileSync(file, JSON.stringify(wishes))
  const said: Said[] = []
  const read = lineReader((line) => {
    // A complaint of the process is no answer; it is shown as it is.
    if (!line.startsWith('{')) return process.stderr.write(`${line}\n`)
    const answer = JSON.parse(line) as Said
    said.push(answer)
    onSaid(answer)
  })
  const child = startNode(
    [
      '--conditions=react-server',
      '--import',
      pathToFileURL(join(root, 'node_modules', 'tsx', 'dist', 'loader.mjs')).href,
      join(root, 'tests', 'support', 'claimant-process.ts'),
      file,
      url,
    ],
    { output: 'keep', onOutput: read },
  )
  void child.ended.then(() => rmSync(folder, { recursive: true, force: true }))
  return { ...child, said }
}
