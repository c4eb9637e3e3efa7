import type { NotAllowed } from '#lib/access/policy.ts'
import { assertNever } from '#lib/kernel/assert.ts'
import type { LedgerRefusal } from '#lib/ledger/refusals.ts'

/** What happened, and the next things a person can do. */
export interface RefusalWords {
  readonly message: string
  readonly next: readonly string[]
}

const plural = (count: number, one: string) => `${count} ${count === 1 ? one : `${one}s`}`

const placeWords: Readonly<Record<string, string>> = {
  waiting: 'Nothing is offered to you yet: somebody is before you.',
  expired: 'The time to answer this offer is over, and it went to the next in line.',
  accepted: 'This offer was accepted already.',
  declined: 'This offer was declined.',
  left: 'This place in the waiting list was given up.',
  closed: 'The waiting list is closed: the swap is over, or the lot was withdrawn.',
}

/** Says in words why the ledger, or the actor's role, said no. */
export function ledgerRefusalWords(refusal: LedgerRefusal | NotAllowed): RefusalWords {
  switch (refusal.kind) {
    case 'not-allowed':
      return {
        message: `Your role in this group does not include this. It takes ${refusal.roles.join(' or ')}.`,
        next: ['Ask one of them to do it, or to change your role.'],
      }
    case 'not-enough-sticks':
      return {
        message:
          refusal.left === 0
            ? 'No sticks are left there.'
            : `Only ${plural(refusal.left, 'stick')} left there.`,
        next: ['Enter a smaller number.', 'Look at the lot’s stick ledger to see where the others went.'],
      }
    case 'not-enough-shares':
      return {
        message:
          refusal.left === 0
            ? 'Every share of this lot has been claimed since this page was opened.'
            : `Only ${plural(refusal.left, 'share')} of this lot left.`,
        next:
          refusal.left === 0
            ? [
                'Look for another lot of the same variety.',
                'Join its waiting list: what is given back is offered in order.',
              ]
            : ['Claim fewer.'],
      }
    case 'cap-per-member':
      return {
        message: `Each member may hold ${plural(refusal.cap, 'share')} in this swap; you hold ${refusal.held}.`,
        next: ['Give one back, then claim this one.', 'Claim fewer.'],
      }
    case 'cap-per-variety':
      return {
        message: `Each member may hold ${plural(refusal.cap, 'share')} of one variety; you hold ${refusal.held}.`,
        next: ['Claim fewer of this variety.', 'Give one back, then claim this one.'],
      }
    case 'claims-not-open':
      return {
        message: 'Claims are not open at this moment.',
        next: ['See on the swap’s page when they open and close.', 'Ask the organiser.'],
      }
    case 'held':
      return {
        message: `This wood is on hold: ${refusal.reason}. Nothing is given from it until the hold is released.`,
        next: ['Ask the health steward.', 'Choose other wood.'],
      }
    case 'protected':
      return {
        message: `‘${refusal.variety}’ may be protected by a patent or a breeder’s right, so it is not offered.`,
        next: [
          'Check the protection on the variety’s page and note the source and the day.',
          'A steward may override this with a reason. When in doubt ask the holder of the right.',
        ],
      }
    case 'not-shared-here':
      return {
        message: `${refusal.genus} wood is not shared in this group: moving it spreads serious disease.`,
        next: ['Ask your agricultural authority where healthy wood can be had.'],
      }
    case 'unnamed-wood':
      return {
        message: 'This limb has no name yet, and wood without a name is not offered.',
        next: ['Name the limb on its tree’s page first.'],
      }
    case 'key-reused':
      return {
        message: 'This form was sent before with other entries, and that first time counts.',
        next: ['Open the page again to see what was recorded.'],
      }
    case 'already-claimed':
      return {
        message: 'You have claimed this lot already.',
        next: ['See your list; there you can change the number.'],
      }
    case 'wrong-state':
      return {
        message: 'This has changed since the page was opened.',
        next: ['Open the page again to see how it stands.'],
      }
    case 'not-found':
      return { message: 'This is not here, or no longer.', next: ['Go back to the list and choose again.'] }
    case 'circular-lineage':
      return {
        message: 'A limb cannot come from its own wood.',
        next: ['Check which graft this limb grew from.'],
      }
    case 'no-shows-not-due':
      return {
        message:
          refusal.at === null
            ? 'No time is stated from which sticks that nobody fetched go back.'
            : 'The time until which sticks wait for their people is not over.',
        next: ['See the time on the swap’s settings page, or change it there.'],
      }
    case 'place-is-gone':
      return {
        message: placeWords[refusal.status] ?? 'This place in the waiting list is no longer open.',
        next: ['Open the page again to see how it stands.', 'Claim, or join the waiting list again.'],
      }
    case 'already-waiting':
      return {
        message: 'You are in the waiting list of this lot already.',
        next: ['See your place on your list of this swap.'],
      }
    case 'shares-are-free':
      return {
        message: `There is no need to wait: ${plural(refusal.left, 'share')} can be claimed now.`,
        next: [`Claim ${refusal.left === 1 ? '1' : `${refusal.left} or fewer`}.`],
      }
    case 'already-reversed':
      return {
        message: 'This entry was corrected before.',
        next: ['Open the page again to see how it stands.'],
      }
    default:
      return assertNever(refusal)
  }
}
