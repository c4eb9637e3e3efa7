import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { displayCode } from '#app/_ui/code.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Columns, Section } from '#app/_ui/section.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { getTree } from '#lib/trees/get-tree.ts'
import type { TreeView } from '#lib/trees/view.ts'
import { GroupPage } from '../../_frame/group-page.tsx'
import { DoneNotice } from '../../people/_parts/done-notice.tsx'
import { LimbTable } from '../_parts/limb-table.tsx'
import { TreeDrawing } from '../_parts/tree-drawing.tsx'
import { GrownFromIt, WoodGiven } from '../_parts/wood-given.tsx'

export async function generateMetadata(props: PageProps<'/g/[group]/trees/[code]'>): Promise<Metadata> {
  const { code } = await props.params
  return { title: `Tree ${displayCode(code)}` }
}

const notices = {
  added: 'The tree was added. Write its code on a label that will not be pruned off.',
  saved: 'The changes were saved.',
  limb: 'The limb was added.',
  gone: 'It was recorded as gone. Nothing else of its record has changed.',
  here: 'It is recorded as still here.',
}

export default async function TreePage(props: PageProps<'/g/[group]/trees/[code]'>) {
  const [{ group: slug, code }, { done }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, today, person } = context
  const tree = await getTree(db, actor, code)
  if (!tree) notFound()
  const path = `/g/${slug}/trees/${tree.code}`
  return (
    <GroupPage context={context} current="trees">
      <DoneNotice done={done} words={notices} />
      <PageHead
        title={
          <>
            Tree <span className="code">{displayCode(tree.code)}</span>
          </>
        }
        crumb={{ href: `/g/${slug}/trees`, label: 'Trees' }}
        meta={<TreeMeta slug={slug} tree={tree} today={today} />}
        acts={tree.mayEdit && <ActionLink href={`${path}/edit`}>Change the tree</ActionLink>}
      />
      {tree.note && <p className="read whitespace-pre-line">{tree.note}</p>}
      <div className="cols tree-cols">
        <Section title="Limbs, from the ground up" id="limbs">
          <LimbTable
            slug={slug}
            tree={tree}
            today={today}
            inches={person.inches}
            mayHold={can(actor, 'place-holds')}
          />
          <div className="acts">
            {tree.mayEdit && !tree.goneOn && <ActionLink href={`${path}/limb`}>Add a limb</ActionLink>}
          </div>
          {!tree.mayEdit && (
            <p className="note">{tree.keeper.name}, stewards and organisers can change this.</p>
          )}
        </Section>
        <Section title="Where they are" id="drawing">
          <TreeDrawing tree={tree} inches={person.inches} />
        </Section>
      </div>
      <Columns kind="even">
        <Section title="Wood cut from it" id="wood">
          <WoodGiven slug={slug} tree={tree} today={today} />
        </Section>
        <Section title="What grew from it" id="offspring">
          <GrownFromIt slug={slug} tree={tree} today={today} />
        </Section>
      </Columns>
    </GroupPage>
  )
}

interface TreeMetaProps {
  readonly slug: string
  readonly tree: TreeView
  readonly today: CivilDate
}

function TreeMeta({ slug, tree, today }: TreeMetaProps) {
  const standing = tree.limbs.filter((limb) => !limb.goneOn)
  const fruits = [...new Set(standing.flatMap((limb) => limb.variety?.commonName ?? []))]
  return (
    <>
      {tree.goneOn && (
        <>
          <StateWord kind="past">
            Gone <RecordedDay date={tree.goneOn} today={today} />
          </StateWord>{' '}
        </>
      )}
      {[...fruits, counted(standing.length, 'limb')].join(', ')}.{tree.place && ` ${tree.place}.`}{' '}
      {tree.plantedOn && (
        <>
          Planted <RecordedDay date={tree.plantedOn} today={today} />
          {tree.rootstock ? ` on ${tree.rootstock}` : ''}.{' '}
        </>
      )}
      {!tree.plantedOn && tree.rootstock && `On ${tree.rootstock}. `}
      Looked after by{' '}
      <Link href={`/g/${slug}/people/${tree.keeper.id}`} prefetch={false}>
        {tree.keeper.name}
      </Link>
      .
    </>
  )
}
