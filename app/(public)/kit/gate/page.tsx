import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
export default function Gate() {
  return <PublicFrame group={{ name: 'Marrow Lane Orchard Circle' }}><div className="stack"><h1>Sign in</h1><form className="form"><TextField name="em" type="email" label="E-mail" help="The one you gave the group." /><p><SubmitButton block>Send me a sign-in link</SubmitButton></p></form><p className="note">The link works once, for 20 minutes.</p><details><summary>Use a password instead</summary><p>Later</p></details></div></PublicFrame>
}
