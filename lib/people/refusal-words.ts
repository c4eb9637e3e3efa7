import { ledgerRefusalWords, type RefusalWords } from '#lib/ledger/refusal-words.ts'
import { dayWords } from '#lib/people/day-words.ts'
import type { PeopleRefusal } from '#lib/people/refusals.ts'

/** Says in words why something about the people of a group was not done. */
export function peopleRefusalWords(refusal: PeopleRefusal): RefusalWords {
  switch (refusal.kind) {
    case 'last-organiser':
      return {
        message: 'This is the only organiser with an account, and a group without one cannot be run.',
        next: ['Make somebody else an organiser first.'],
      }
    case 'day-ahead':
      return {
        message: `This day is still to come; today is ${dayWords(refusal.today)}.`,
        next: ['Enter today or a day before.'],
      }
    case 'left-before-joining':
      return {
        message: `This person joined on ${dayWords(refusal.joinedOn)} and cannot have left before.`,
        next: ['Enter that day or a later one.'],
      }
    case 'has-left':
      return {
        message: `${refusal.name} left on ${dayWords(refusal.leftOn)}.`,
        next: ['Record on the person’s page that they are back, then try again.'],
      }
    case 'is-here':
      return { message: `${refusal.name} has not left.`, next: ['Open the page again to see how it stands.'] }
    case 'already-member':
      return {
        message: `${refusal.name} is a member of this group already, with this e-mail address.`,
        next: ['Ask them to sign in with it.', 'Change the role on the person’s page.'],
      }
    case 'has-account':
      return {
        message: `${refusal.name} has an account already.`,
        next: ['Ask them to sign in.', 'To invite somebody else, choose no name.'],
      }
    case 'no-account':
      return { message: 'There is no account for this.', next: ['Sign in, then try again.'] }
    default:
      return invitationRefusalWords(refusal)
  }
}

type Rest = Extract<
  PeopleRefusal,
  {
    kind:
      | `invitation-${string}`
      | 'other-address'
      | 'known-twice'
      | 'not-allowed'
      | 'key-reused'
      | 'not-found'
  }
>

function invitationRefusalWords(refusal: Rest): RefusalWords {
  switch (refusal.kind) {
    case 'invitation-unknown':
      return {
        message: 'There is no such invitation. Perhaps the link was cut short on its way.',
        next: ['Open the link from the mail itself, whole.', 'Ask the organiser for a new invitation.'],
      }
    case 'invitation-expired':
      return {
        message: `This invitation could be used until ${dayWords(refusal.on)}.`,
        next: [`Ask ${refusal.invitedBy} for a new one.`],
      }
    case 'invitation-used':
      return {
        message: 'This invitation has been used; each works once.',
        next: ['If it was you, sign in.', 'If it was not, tell the organiser.'],
      }
    case 'invitation-revoked':
      return {
        message: 'This invitation was taken back, or a newer one took its place.',
        next: ['Look for a newer mail.', `Ask ${refusal.invitedBy}.`],
      }
    case 'other-address':
      return {
        message: `This invitation went to ${refusal.invited}; you are signed in as ${refusal.signedIn}.`,
        next: [
          `Sign out, open the link again and sign in with ${refusal.invited}.`,
          `Or ask the organiser to invite ${refusal.signedIn}.`,
        ],
      }
    case 'known-twice':
      return {
        message:
          'You were a member of this group before, under another entry than the one this invitation names.',
        next: ['Ask the organiser to invite you again without choosing a name.'],
      }
    case 'invitation-accepted':
      return {
        message: 'This invitation has been accepted and can no longer be taken back.',
        next: ['To end the membership, record on the person’s page that they left.'],
      }
    default:
      return ledgerRefusalWords(refusal)
  }
}
