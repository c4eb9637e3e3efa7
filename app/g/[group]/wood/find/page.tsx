import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { displayCode } from '#app/_ui/code.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { memberContext } from '#lib/access/context.ts'
import { describeCodeRefusal } from '#lib/grafting/codes.ts'
import { type FindRefusal, findLotByCode } from '#lib/wood/queries.ts'

export const metadata: Metadata = { title: 'Find a lot by its code' }

function words(refusal: FindRefusal): string | null {
  switch (refusal.kind) {
    case 'empty':
      return null
    case 'not-given':
      return `${displayCode(refusal.code)} is a true code, but this group never gave it. Look at the label again, or ask which group it came from.`
    default:
      return describeCodeRefusal(refusal)
  }
}

export default async function FindLotPage(props: PageProps<'/g/[group]/wood/find'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const { code } = await props.searchParams
  const typed = typeof code === 'string' ? code : ''
  const found = await findLotByCode(context.db, context.actor, typed)
  if (found.ok) redirect(`/g/${slug}/${found.value.kind === 'lot' ? 'wood' : 'trees'}/${found.value.code}`)
  const wrong = words(found.refusal)
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title="Find a lot by its code"
        crumb={{ href: `/g/${slug}/wood`, label: 'Wood' }}
        meta="The code of a tree finds the tree."
      />
      {wrong && (
        <div className="errors read" role="alert" aria-labelledby="find-wrong">
          <h2 id="find-wrong">No lot found</h2>
          <ul>
            <li>
              <a href="#find-code">{wrong}</a>
            </li>
          </ul>
        </div>
      )}
      <form method="get" action={`/g/${slug}/wood/find`} className="form read">
        <div className={wrong ? 'field bad' : 'field'}>
          <label htmlFor="find-code">Code</label>
          <span className="help" id="find-help">
            Six characters, as printed on the bag and on every stick: ABC-DEF. Small letters and a missing
            hyphen do not matter.
          </span>
          {wrong && (
            <span className="err" id="find-error">
              {wrong}
            </span>
          )}
          <input
            id="find-code"
            name="code"
            className="in mid code"
            defaultValue={typed}
            maxLength={40}
            autoCapitalize="characters"
            autoComplete="off"
            autoCorrect="off"
            spellCheck={false}
            aria-invalid={wrong ? true : undefined}
            aria-describedby={wrong ? 'find-help find-error' : 'find-help'}
          />
        </div>
        <p>
          <button type="submit" className="btn">
            Find it
          </button>
        </p>
      </form>
    </GroupPage>
  )
}
