import Link from 'next/link'
import type { ReactNode } from 'react'
import { SplitTally } from '#app/_ui/split-tally.tsx'

/** Which entry of the index a page belongs to. */
export type Place =
  | 'home'
  | 'wood'
  | 'swaps'
  | 'grafts'
  | 'trees'
  | 'varieties'
  | 'results'
  | 'health'
  | 'people'
  | 'settings'
  | 'more'

export interface FrameGroup {
  readonly slug: string
  readonly name: string
  /** As it is said: "2026–27". */
  readonly season: string
}

interface Entry {
  readonly place: Place
  readonly label: string
  readonly path: string
  readonly where?: string
}

// Five words fit the bar of a phone; the rest is reached through More there.
const entries: readonly Entry[] = [
  { place: 'home', label: 'This week', path: '' },
  { place: 'wood', label: 'Wood', path: '/wood' },
  { place: 'swaps', label: 'Swap', path: '/swaps' },
  { place: 'grafts', label: 'My grafts', path: '/grafts' },
  { place: 'more', label: 'More', path: '/more', where: 'phone' },
  { place: 'trees', label: 'Trees', path: '/trees', where: 'desk' },
  { place: 'varieties', label: 'Varieties', path: '/varieties', where: 'desk' },
  { place: 'results', label: 'Results', path: '/results', where: 'desk' },
  { place: 'health', label: 'Health holds', path: '/health', where: 'desk' },
  { place: 'people', label: 'Members', path: '/people', where: 'desk gap' },
  { place: 'settings', label: 'Group settings', path: '/settings', where: 'desk' },
]

const onThePhoneBar = new Set<Place>(['home', 'wood', 'swaps', 'grafts', 'more'])

function currentMark(entry: Entry, current: Place): 'page' | 'true' | undefined {
  if (entry.place === current) return 'page'
  return entry.place === 'more' && !onThePhoneBar.has(current) ? 'true' : undefined
}

interface IndexProps {
  readonly base: string
  readonly current: Place
  readonly counts: Partial<Record<Place, string | number>>
  readonly foot: ReactNode
}

function Index({ base, current, counts, foot }: IndexProps) {
  return (
    <nav className="nav" aria-label="Main">
      <ul className="nav-list">
        {entries.map((entry) => (
          <li key={entry.place} className={entry.where}>
            <Link href={`${base}${entry.path}`} prefetch={false} aria-current={currentMark(entry, current)}>
              {entry.label}
              {counts[entry.place] !== undefined && <span className="c">{counts[entry.place]}</span>}
            </Link>
          </li>
        ))}
      </ul>
      {foot}
    </nav>
  )
}

interface FrameProps {
  readonly group: FrameGroup
  readonly current: Place
  /** Short words or numbers beside the entries, shown on a desk only. */
  readonly counts?: Partial<Record<Place, string | number>>
  readonly person?: { readonly name: string; readonly role: string }
  /** Under the index on a desk, below the person: a form to sign out, say. */
  readonly foot?: ReactNode
  /** Swap day: big type, and no index to hit by mistake with a glove. */
  readonly bare?: boolean
  readonly children: ReactNode
}

/** What stands around every page of a group: the index, the way to a lot by its code, and the page itself. */
export function Frame({ group, current, counts = {}, person, foot, bare = false, children }: FrameProps) {
  const base = `/g/${group.slug}`
  return (
    <div className="frame">
      <header className="top">
        <Link className="brand" href={base} prefetch={false}>
          <SplitTally />
          Tallywood
        </Link>
        <p className="group">
          {group.name}
          <br />
          Season {group.season}
        </p>
        <p className="find">
          <Link href={`${base}/wood/find`} prefetch={false}>
            Find a lot by its code
          </Link>
        </p>
      </header>
      {!bare && (
        <Index
          base={base}
          current={current}
          counts={counts}
          foot={
            (person || foot) && (
              <div className="nav-foot">
                {person && (
                  <p className="note">
                    {person.name}
                    <br />
                    {person.role}
                  </p>
                )}
                {foot}
              </div>
            )
          }
        />
      )}
      <main id="main" tabIndex={-1} className={bare ? 'page shed' : 'page'}>
        {children}
      </main>
    </div>
  )
}
