import { createHash, randomBytes } from 'node:crypto'

/** Days for which an invitation can be accepted. */
export const invitationDays = 14

/** A token that cannot be guessed: 32 random bytes. */
export const newInvitationToken = (): string => randomBytes(32).toString('base64url')

/** What is kept of a token: its SHA-256, so that reading the table lets nobody in. */
export const invitationTokenHash = (token: string): string => createHash('sha256').update(token).digest('hex')
