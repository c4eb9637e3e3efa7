import Link from 'next/link'
import { publicContext } from '#lib/access/context.ts'
import { demoPeople } from '#seed/demo/people-summary.ts'
import { signInAsDemoPersonAction } from '../actions.ts'

/** One button for each kind of person of the demo world. */
export async function DemoPeople({ backTo }: { readonly backTo: string }) {
  const people = await demoPeople(publicContext().db)
  return (
    <section className="sec" aria-labelledby="demo-people">
      <h2 id="demo-people">Look round the demo</h2>
      <p className="note">
        Marrow Lane Orchard Circle and everybody in it are invented. Sign in as one of them; mail to them
        lands in <Link href="/outbox">the outbox</Link>.
      </p>
      <ul className="rows">
        {people.map((person) => (
          <li key={person.loginId}>
            <form action={signInAsDemoPersonAction} className="stack-s">
              <input type="hidden" name="loginId" value={person.loginId} />
              <input type="hidden" name="to" value={backTo} />
              <button type="submit" className="btn second small">
                {person.displayName}, {person.role}
              </button>
              <p className="note">{person.about}</p>
            </form>
          </li>
        ))}
      </ul>
    </section>
  )
}
