import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { displayCode } from '#app/_ui/code.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { Section } from '#app/_ui/section.tsx'
import { memberContext } from '#lib/access/context.ts'
import { memberChoices } from '#lib/people/queries.ts'
import { getTree } from '#lib/trees/get-tree.ts'
import { treeRefusalWords } from '#lib/trees/refusal-words.ts'
import { GroupPage } from '../../../_frame/group-page.tsx'
import { GoneForm } from '../../_parts/gone-form.tsx'
import { TreeFields } from '../../_parts/tree-fields.tsx'
import { editTreeAction } from '../../actions.ts'

export const metadata: Metadata = { title: 'Change a tree' }

export default async function EditTreePage(props: PageProps<'/g/[group]/trees/[code]/edit'>) {
  const { group: slug, code } = await props.params
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const [tree, members] = await Promise.all([getTree(db, actor, code), memberChoices(db, actor)])
  if (!tree) notFound()
  // A tree may still be with somebody who has left; saving the rest must not hand it to another.
  const keeper = { id: tree.keeper.id, name: tree.keeper.name, hasAccount: false }
  const keepers = members.some(({ id }) => id === keeper.id) ? members : [keeper, ...members]
  const values = {
    keeperId: tree.keeper.id,
    place: tree.place ?? '',
    rootstock: tree.rootstock ?? '',
    plantedOn: tree.plantedOn ?? '',
    note: tree.note ?? '',
  }
  return (
    <GroupPage context={context} current="trees">
      <PageHead
        title="Change the tree"
        crumb={{ href: `/g/${slug}/trees/${tree.code}`, label: `Tree ${displayCode(tree.code)}` }}
      />
      {tree.mayEdit ? (
        <>
          <ActionForm action={editTreeAction} values={values} id="tree-form" className="form read">
            <Hidden name="group" value={slug} />
            <Hidden name="treeId" value={tree.treeId} />
            <TreeFields keepers={keepers} onlyKeeper={null} today={today} />
            <SubmitButton pending="Saving">Save the tree</SubmitButton>
          </ActionForm>
          <Section title={tree.goneOn ? 'The tree is recorded as gone' : 'Is the tree gone?'} id="gone">
            <GoneForm slug={slug} treeId={tree.treeId} goneOn={tree.goneOn} today={today} />
          </Section>
        </>
      ) : (
        <Refusal {...treeRefusalWords({ kind: 'not-your-tree', keeper: tree.keeper.name })} />
      )}
    </GroupPage>
  )
}
