import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { displayCode } from '#app/_ui/code.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { Section } from '#app/_ui/section.tsx'
import { type MemberContext, memberContext } from '#lib/access/context.ts'
import { getTree } from '#lib/trees/get-tree.ts'
import { graftsWithoutLimb } from '#lib/trees/graft-hints.ts'
import { treeRefusalWords } from '#lib/trees/refusal-words.ts'
import type { LimbView, TreeView } from '#lib/trees/view.ts'
import { varietyChoices } from '#lib/varieties/queries.ts'
import { GroupPage } from '../../../../_frame/group-page.tsx'
import { GoneForm } from '../../../_parts/gone-form.tsx'
import { GraftHints } from '../../../_parts/graft-hints.tsx'
import { LimbFields } from '../../../_parts/limb-fields.tsx'
import { Lineage } from '../../../_parts/limb-table.tsx'
import { limbValues } from '../../../_parts/limb-values.ts'
import { editLimbAction } from '../../../actions.ts'

export const metadata: Metadata = { title: 'Change a limb' }

export default async function LimbPage(props: PageProps<'/g/[group]/trees/[code]/limb/[limb]'>) {
  const { group: slug, code, limb: limbId } = await props.params
  const context = await memberContext(slug)
  const tree = await getTree(context.db, context.actor, code)
  const limb = tree?.limbs.find((candidate) => candidate.limbId === limbId)
  if (!tree || !limb) notFound()
  return (
    <GroupPage context={context} current="trees">
      <PageHead
        title={limb.variety ? `Change limb ${limb.mark}` : `Name limb ${limb.mark}`}
        crumb={{ href: `/g/${slug}/trees/${tree.code}`, label: `Tree ${displayCode(tree.code)}` }}
      />
      {tree.mayEdit ? (
        <LimbForms context={context} tree={tree} limb={limb} />
      ) : (
        <Refusal {...treeRefusalWords({ kind: 'not-your-tree', keeper: tree.keeper.name })} />
      )}
    </GroupPage>
  )
}

interface LimbFormsProps {
  readonly context: MemberContext
  readonly tree: TreeView
  readonly limb: LimbView
}

async function LimbForms({ context, tree, limb }: LimbFormsProps) {
  const { db, actor, today, person, group } = context
  const [varieties, hints] = await Promise.all([
    varietyChoices(db, actor),
    limb.variety ? [] : graftsWithoutLimb(db, actor, tree.treeId),
  ])
  return (
    <>
      {!limb.variety && (
        <Section title="What could it be?" id="hints">
          {hints.length > 0 ? (
            <>
              <p>Grafts on record as made on this tree, without a limb so far:</p>
              <GraftHints hints={hints} today={today} />
            </>
          ) : (
            <p className="read">
              No graft on this tree is on record without its limb. Wait for leaf and fruit, and show them to
              somebody who knows the sort.
            </p>
          )}
        </Section>
      )}
      {limb.from && (
        <p className="read">
          It grew from: <Lineage slug={group.slug} from={limb.from} today={today} />.
        </p>
      )}
      {limb.lots > 0 && (
        <div className="callout soon read">
          <p>
            {counted(limb.lots, 'lot was', 'lots were')} cut from this limb. A new name goes to the wood as
            well; grafts that were recorded keep theirs. Tell those who have the wood.
          </p>
        </div>
      )}
      <ActionForm action={editLimbAction} values={limbValues(limb)} id="limb-form" className="form read">
        <Hidden name="group" value={group.slug} />
        <Hidden name="limbId" value={limb.limbId} />
        <LimbFields varieties={varieties} inches={person.inches} today={today} />
        <SubmitButton pending="Saving">Save the limb</SubmitButton>
      </ActionForm>
      {!tree.goneOn && (
        <Section title={limb.goneOn ? 'The limb is recorded as gone' : 'Is the limb gone?'} id="gone">
          <GoneForm
            slug={group.slug}
            treeId={tree.treeId}
            limbId={limb.limbId}
            goneOn={limb.goneOn}
            today={today}
          />
        </Section>
      )}
    </>
  )
}
