import { z } from 'zod'
import { maxPasswordLength, minPasswordLength } from '#lib/access/password.ts'

/** An e-mail address as it is stored: trimmed and in lower case. */
const emailField = z.preprocess(
  (value) => (typeof value === 'string' ? value.trim().toLowerCase() : value),
  z.email({ error: 'Enter an e-mail address, such as wren@example.org' }).max(254),
)

export const SignInWithPasswordInput = z.object({
  email: emailField,
  password: z.string({ error: 'Enter your password' }).min(1, { error: 'Enter your password' }),
})
export type SignInWithPasswordInput = z.infer<typeof SignInWithPasswordInput>

export const RequestLinkInput = z.object({ email: emailField })
export type RequestLinkInput = z.infer<typeof RequestLinkInput>

export const SetPasswordInput = z.object({
  password: z
    .string({ error: 'Enter a password' })
    .min(minPasswordLength, { error: `At least ${minPasswordLength} characters; a few words are good` })
    .max(maxPasswordLength, { error: `At most ${maxPasswordLength} characters` }),
})
export type SetPasswordInput = z.infer<typeof SetPasswordInput>
