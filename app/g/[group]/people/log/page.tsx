import type { Metadata } from 'next'
import Link from 'next/link'
import { displayCode } from '#app/_ui/code.tsx'
import { instantWords } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { memberContext } from '#lib/access/context.ts'
import { notAllowed } from '#lib/access/policy.ts'
import { type LogPage, readLog } from '#lib/people/read-log.ts'
import { peopleRefusalWords } from '#lib/people/refusal-words.ts'
import type { LogEntry } from '#lib/people/view.ts'
import { GroupPage } from '../../_frame/group-page.tsx'
import { firstOf } from '../_parts/first-of.ts'

export const metadata: Metadata = { title: 'Log' }

const places: Readonly<Record<string, string>> = {
  member: 'people',
  lot: 'wood',
  tree: 'trees',
  variety: 'varieties',
  swap: 'swaps',
  attempt: 'grafts',
  session: 'wood/sessions',
  store: 'wood/stores',
}

const inWords = (action: string) => {
  const words = action.replaceAll('-', ' ')
  return words.charAt(0).toUpperCase() + words.slice(1)
}

function Subject({ slug, entry }: { readonly slug: string; readonly entry: LogEntry }) {
  const [kind = '', id = ''] = entry.subject.split(':')
  const place = places[kind]
  const code = kind === 'lot' || kind === 'tree' ? displayCode(id) : null
  if (!place || !id) return null
  return (
    <>
      ,{' '}
      <Link href={`/g/${slug}/${place}/${id}`} prefetch={false}>
        {kind === 'variety' && entry.subjectName ? (
          <VarietyName name={entry.subjectName} />
        ) : (
          (entry.subjectName ?? (code ? `${kind} ${code}` : kind))
        )}
      </Link>
    </>
  )
}

export default async function PeopleLogPage(props: PageProps<'/g/[group]/people/log'>) {
  const [{ group: slug }, { before }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const page = await readLog(context.db, context.actor, { before: firstOf(before) })
  return (
    <GroupPage context={context} current="people">
      <PageHead
        title="Who did what"
        crumb={{ href: `/g/${slug}/people`, label: 'Members' }}
        meta="The newest first. Entries are never changed or removed."
      />
      {page ? (
        <Log slug={slug} page={page} timeZone={context.group.timeZone} />
      ) : (
        <Refusal {...peopleRefusalWords(notAllowed('read-log'))} />
      )}
    </GroupPage>
  )
}

interface LogProps {
  readonly slug: string
  readonly page: LogPage
  readonly timeZone: string
}

function Log({ slug, page, timeZone }: LogProps) {
  if (page.entries.length === 0) {
    return <Empty title="Nothing in the log yet">Entries come by themselves with whatever is recorded.</Empty>
  }
  return (
    <>
      <ol className="rows">
        {page.entries.map((entry) => (
          <li key={entry.id} className="stack-s">
            <p>
              <b>{inWords(entry.action)}</b>
              <Subject slug={slug} entry={entry} />
              {entry.detail && `; ${entry.detail}`}
            </p>
            <p className="note">
              <time dateTime={entry.at.toISOString()}>{instantWords(entry.at, timeZone)}</time>, {entry.who}
              {entry.onBehalfOf && ` for ${entry.onBehalfOf}`}
            </p>
          </li>
        ))}
      </ol>
      {page.olderThan && (
        <p>
          <Link className="tap" href={`/g/${slug}/people/log?before=${page.olderThan}`}>
            Older entries
          </Link>
        </p>
      )}
    </>
  )
}
