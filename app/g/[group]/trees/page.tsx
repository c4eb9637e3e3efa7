import type { Metadata } from 'next'
import Link from 'next/link'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { Filters } from '#app/_ui/filters.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { memberContext } from '#lib/access/context.ts'
import { listTrees, type TreePage } from '#lib/trees/queries.ts'
import { GroupPage } from '../_frame/group-page.tsx'
import { firstOf } from '../people/_parts/first-of.ts'
import { SearchForm } from '../people/_parts/search-form.tsx'
import { TreeRows } from './_parts/tree-rows.tsx'

export const metadata: Metadata = { title: 'Trees' }

interface Chosen {
  readonly search: string
  readonly keeper: string
  readonly gone: boolean
}

function address(path: string, chosen: Partial<Chosen>, page = 1): string {
  const query = new URLSearchParams()
  if (chosen.search) query.set('q', chosen.search)
  if (chosen.keeper) query.set('keeper', chosen.keeper)
  if (chosen.gone) query.set('gone', 'yes')
  if (page > 1) query.set('page', String(page))
  return query.size > 0 ? `${path}?${query}` : path
}

export default async function TreesPage(props: PageProps<'/g/[group]/trees'>) {
  const [{ group: slug }, query] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const chosen: Chosen = {
    search: firstOf(query['q']),
    keeper: firstOf(query['keeper']),
    gone: firstOf(query['gone']) === 'yes',
  }
  const trees = await listTrees(db, actor, { ...chosen, page: Number(firstOf(query['page'])) || 1 })
  const path = `/g/${slug}/trees`
  const { search } = chosen
  const isYours = chosen.keeper === actor.memberId
  return (
    <GroupPage context={context} current="trees">
      <PageHead
        title="Trees"
        meta={counted(trees.total, 'tree')}
        acts={
          <ActionLink href={`${path}/new`} kind="first">
            Add a tree
          </ActionLink>
        }
      />
      <div className="stack-s">
        <SearchForm
          path={path}
          label="Find a tree"
          help="By variety, code, place, rootstock or the person who looks after it."
          search={search}
          keep={{ keeper: chosen.keeper, gone: chosen.gone ? 'yes' : undefined }}
        />
        <Filters
          label="Show"
          items={[
            { href: address(path, { search }), label: 'All', current: !chosen.keeper && !chosen.gone },
            { href: address(path, { search, keeper: actor.memberId }), label: 'Yours', current: isYours },
            { href: address(path, { search, gone: true }), label: 'Gone', current: chosen.gone },
          ]}
        />
      </div>
      {trees.rows.length > 0 ? (
        <TreeRows slug={slug} trees={trees.rows} today={today} />
      ) : (
        <NoTrees slug={slug} chosen={chosen} />
      )}
      {trees.pages > 1 && <Pages path={path} chosen={chosen} trees={trees} />}
    </GroupPage>
  )
}

function NoTrees({ slug, chosen }: { readonly slug: string; readonly chosen: Chosen }) {
  const all = <Link href={`/g/${slug}/trees`}>Show all trees</Link>
  if (chosen.search) {
    return (
      <Empty title={`No tree for “${chosen.search}”`} action={all}>
        A part of a name is enough, and accents make no difference. Trees that are gone are listed apart.
      </Empty>
    )
  }
  if (chosen.gone) {
    return (
      <Empty title="No tree is gone" action={all}>
        A tree that was felled or died moves here, with the day.
      </Empty>
    )
  }
  return (
    <Empty
      title={chosen.keeper ? 'You have no tree on record' : 'No trees yet'}
      action={<ActionLink href={`/g/${slug}/trees/new`}>Add a tree</ActionLink>}
    >
      Wood is cut from a limb of a tree, so trees come first. The best time to record one is while it is in
      leaf or fruit.
    </Empty>
  )
}

interface PagesProps {
  readonly path: string
  readonly chosen: Chosen
  readonly trees: TreePage
}

function Pages({ path, chosen, trees }: PagesProps) {
  return (
    <nav className="acts" aria-label="Pages">
      {trees.page > 1 && (
        <Link className="tap" href={address(path, chosen, trees.page - 1)}>
          Before
        </Link>
      )}
      <span className="note">
        Page {trees.page} of {trees.pages}
      </span>
      {trees.page < trees.pages && (
        <Link className="tap" href={address(path, chosen, trees.page + 1)}>
          Further
        </Link>
      )}
    </nav>
  )
}
