import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { displayCode } from '#app/_ui/code.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { Section } from '#app/_ui/section.tsx'
import { memberContext } from '#lib/access/context.ts'
import { getTree } from '#lib/trees/get-tree.ts'
import { attemptHint, graftsWithoutLimb } from '#lib/trees/graft-hints.ts'
import { treeRefusalWords } from '#lib/trees/refusal-words.ts'
import type { TreeRefusal } from '#lib/trees/refusals.ts'
import type { TreeView } from '#lib/trees/view.ts'
import { varietyChoices } from '#lib/varieties/queries.ts'
import { GroupPage } from '../../../_frame/group-page.tsx'
import { firstOf } from '../../../people/_parts/first-of.ts'
import { GraftHints } from '../../_parts/graft-hints.tsx'
import { LimbFields } from '../../_parts/limb-fields.tsx'
import { freeMark, fromHint, newLimbValues } from '../../_parts/limb-values.ts'
import { addLimbAction } from '../../actions.ts'

export const metadata: Metadata = { title: 'Add a limb' }

function objectionTo(tree: TreeView): TreeRefusal | null {
  if (!tree.mayEdit) return { kind: 'not-your-tree', keeper: tree.keeper.name }
  return tree.goneOn ? { kind: 'tree-gone', goneOn: tree.goneOn } : null
}

export default async function AddLimbPage(props: PageProps<'/g/[group]/trees/[code]/limb'>) {
  const [{ group: slug, code }, query] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, today, person } = context
  const attempt = firstOf(query['attempt'])
  const [tree, varieties, hint] = await Promise.all([
    getTree(db, actor, code),
    varietyChoices(db, actor),
    attempt ? attemptHint(db, actor, attempt) : null,
  ])
  if (!tree || (attempt && !hint)) notFound()
  const path = `/g/${slug}/trees/${tree.code}`
  const hints = hint ? [] : await graftsWithoutLimb(db, actor, tree.treeId)
  const objection = objectionTo(tree)
  const mark = freeMark(tree.limbs.map((limb) => limb.mark))
  return (
    <GroupPage context={context} current="trees">
      <PageHead
        title="Add a limb"
        crumb={{ href: path, label: `Tree ${displayCode(tree.code)}` }}
        lead={
          hint && (
            <>
              It grew from <VarietyName name={hint.varietyName} />, made by {hint.growerName} on{' '}
              <RecordedDay date={hint.madeOn} today={today} />.
            </>
          )
        }
      />
      {objection ? (
        <Refusal {...treeRefusalWords(objection)} />
      ) : (
        <>
          {hints.length > 0 && (
            <Section title="Did one of these grow?" id="hints">
              <p>Grafts on record as made on this tree, without a limb so far.</p>
              <GraftHints
                hints={hints}
                today={today}
                hrefOf={(found) => `${path}/limb?attempt=${found.attemptId}`}
              />
            </Section>
          )}
          <ActionForm
            action={addLimbAction}
            values={newLimbValues('', mark, hint)}
            label="Limb"
            className="form read"
          >
            <Hidden name="group" value={slug} />
            <Hidden name="treeId" value={tree.treeId} />
            <OnceKey value={randomUUID()} />
            <LimbFields varieties={varieties} inches={person.inches} today={today} from={fromHint(hint)} />
            <SubmitButton pending="Adding the limb">Add the limb</SubmitButton>
          </ActionForm>
        </>
      )}
    </GroupPage>
  )
}
