import Link from 'next/link'
import { counted } from '#app/_ui/measures.ts'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { roleWords } from '#lib/people/role-words.ts'
import type { MemberRow } from '#lib/people/view.ts'

interface PeopleRowsProps {
  readonly slug: string
  readonly people: readonly MemberRow[]
  readonly today: CivilDate
}

/** People by name, with the role of those who have one and what they look after. */
export function PeopleRows({ slug, people, today }: PeopleRowsProps) {
  return (
    <Rows>
      {people.map((person) => (
        <li
          key={person.id}
          className="stack-s desk:grid desk:grid-cols-[15rem_minmax(0,1fr)_auto] desk:items-center desk:gap-4"
        >
          <p>
            <Link className="tap" href={`/g/${slug}/people/${person.id}`} prefetch={false}>
              <b>{person.name}</b>
            </Link>
          </p>
          <div className="note">
            <p>
              {person.trees > 0 ? counted(person.trees, 'tree') : 'No trees'}
              {!person.hasAccount && ', no account'}
              {person.leftOn && (
                <>
                  , left <RecordedDay date={person.leftOn} today={today} />
                </>
              )}
            </p>
            {person.contact && (person.contact.phone || person.contact.email) && (
              <p>{[person.contact.phone, person.contact.email].filter(Boolean).join(', ')}</p>
            )}
          </div>
          {person.role !== 'member' && !person.leftOn && (
            <p>
              <Tag>{roleWords[person.role]}</Tag>
            </p>
          )}
        </li>
      ))}
    </Rows>
  )
}
