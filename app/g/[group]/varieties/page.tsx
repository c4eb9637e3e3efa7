import type { Metadata } from 'next'
import Link from 'next/link'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { Filters } from '#app/_ui/filters.tsx'
import { counted } from '#app/_ui/measures.ts'
import { LatinName, SellingName, VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { listVarieties, taxaInUse } from '#lib/varieties/queries.ts'
import type { SynonymView, VarietyRow } from '#lib/varieties/view.ts'
import { GroupPage } from '../_frame/group-page.tsx'
import { firstOf } from '../people/_parts/first-of.ts'
import { SearchForm } from '../people/_parts/search-form.tsx'
import { ProtectionMark } from './_parts/protection-words.tsx'

export const metadata: Metadata = { title: 'Varieties' }

const address = (path: string, query: Readonly<Record<string, string>>) => {
  const kept = Object.entries(query).filter(([, value]) => value !== '')
  return kept.length > 0 ? `${path}?${new URLSearchParams(kept)}` : path
}

export default async function VarietiesPage(props: PageProps<'/g/[group]/varieties'>) {
  const [{ group: slug }, query] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor } = context
  const search = firstOf(query['q'])
  const taxon = firstOf(query['taxon'])
  const [varieties, taxa] = await Promise.all([
    listVarieties(db, actor, { search, taxon }),
    taxaInUse(db, actor),
  ])
  const path = `/g/${slug}/varieties`
  const mayAdd = can(actor, 'edit-varieties')
  const total = taxa.reduce((sum, kind) => sum + kind.varieties, 0)
  return (
    <GroupPage context={context} current="varieties">
      <PageHead
        title="Varieties"
        meta={`${counted(total, 'variety', 'varieties')} of ${counted(taxa.length, 'kind of fruit', 'kinds of fruit')}`}
        acts={
          mayAdd && (
            <ActionLink href={`${path}/new`} kind="first">
              Add a variety
            </ActionLink>
          )
        }
      />
      {total > 0 && (
        <div className="stack-s">
          <SearchForm
            path={path}
            label="Find a variety"
            help="By any of its names, or by fruit. Accents, capitals and apostrophes make no difference."
            search={search}
            keep={{ taxon }}
          />
          <Filters
            label="Kind of fruit"
            items={[
              { href: address(path, { q: search }), label: 'All', current: taxon === '' },
              ...taxa.map((kind) => ({
                href: address(path, { q: search, taxon: kind.key }),
                label: kind.commonName,
                count: kind.varieties,
                current: kind.key === taxon,
              })),
            ]}
          />
        </div>
      )}
      <VarietyList slug={slug} varieties={varieties} isEmpty={total === 0} search={search} />
    </GroupPage>
  )
}

interface VarietyListProps {
  readonly slug: string
  readonly varieties: readonly VarietyRow[]
  readonly isEmpty: boolean
  readonly search: string
}

function VarietyList({ slug, varieties, isEmpty, search }: VarietyListProps) {
  if (isEmpty) {
    return (
      <Empty title="No varieties yet">
        Names come before wood: add the sorts that your trees bear, then the trees. Most groups do this in
        autumn, before the first wood is cut.
      </Empty>
    )
  }
  if (varieties.length === 0) {
    return (
      <Empty
        title={search ? `Nothing named like “${search}”` : 'Nothing of this kind'}
        action={<Link href={`/g/${slug}/varieties`}>Show all varieties</Link>}
      >
        A part of a name is enough. Old sorts have many names; try another one.
      </Empty>
    )
  }
  return (
    <Rows>
      {varieties.map((variety) => (
        <li key={variety.id} className="stack-s">
          <div className="sec-head">
            <Link className="tap" href={`/g/${slug}/varieties/${variety.id}`} prefetch={false}>
              <VarietyName name={variety.name} />
            </Link>
            <ProtectionMark variety={variety} />
          </div>
          <p className="note">
            {variety.commonName}, <LatinName>{variety.taxonName}</LatinName>;{' '}
            {variety.limbs > 0 ? `${counted(variety.limbs, 'limb')} in the group` : 'no limb on record'}
            {variety.nameCertainty === 'disputed' && '; name disputed'}
            {variety.nameCertainty === 'unknown' && '; a working name'}
          </p>
          {variety.synonyms.length > 0 && (
            <p className="note">
              {variety.foundAs ? 'Found as ' : 'Also '}
              <OtherNames names={variety.synonyms} foundAs={variety.foundAs} />
            </p>
          )}
        </li>
      ))}
    </Rows>
  )
}

interface OtherNamesProps {
  readonly names: readonly SynonymView[]
  readonly foundAs: string | null
}

function OtherNames({ names, foundAs }: OtherNamesProps) {
  const shown = foundAs ? names.filter((name) => name.name === foundAs) : names
  return shown.map((name, i) => (
    <span key={name.id}>
      {i > 0 && ', '}
      {name.kind === 'selling_name' ? <SellingName>{name.name}</SellingName> : name.name}
    </span>
  ))
}
