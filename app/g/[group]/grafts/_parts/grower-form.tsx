import type { MemberChoice } from '#lib/people/view.ts'

interface GrowerFormProps {
  readonly path: string
  readonly members: readonly MemberChoice[]
  /** Whose entries are shown. */
  readonly growerId: string
  readonly selfId: string
}

/** For those who keep the record for others: whose grafts. By address, so that it works without script. */
export function GrowerForm({ path, members, growerId, selfId }: GrowerFormProps) {
  return (
    <form action={path} method="get" className="read">
      <div className="field">
        <label htmlFor="for">Whose grafts</label>
        <span className="help" id="for-help">
          You may also record for people without an account.
        </span>
        <div className="flex flex-wrap gap-2">
          <select
            id="for"
            name="for"
            className="in min-w-0 flex-1"
            defaultValue={growerId}
            aria-describedby="for-help"
          >
            {members.map((member) => (
              <option key={member.id} value={member.id}>
                {member.name}
                {member.id === selfId ? ' (you)' : member.hasAccount ? '' : ', no account'}
              </option>
            ))}
          </select>
          <button type="submit" className="btn second">
            Show
          </button>
        </div>
      </div>
    </form>
  )
}
