import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { Filters } from '#app/_ui/filters.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { FieldErrors } from '#app/_ui/form/field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { memberChoices } from '#lib/people/queries.ts'
import { attemptHint } from '#lib/trees/graft-hints.ts'
import { varietyChoices } from '#lib/varieties/queries.ts'
import { GroupPage } from '../../_frame/group-page.tsx'
import { firstOf } from '../../people/_parts/first-of.ts'
import { LimbFields } from '../_parts/limb-fields.tsx'
import { freeMark, fromHint, newLimbValues } from '../_parts/limb-values.ts'
import { TreeFields } from '../_parts/tree-fields.tsx'
import { addTreeAction } from '../actions.ts'

export const metadata: Metadata = { title: 'Add a tree' }

const mostLimbs = 12
const offered = [1, 2, 3, 4, 6, 8, mostLimbs]

/** Letters A, B, C, … for so many limbs. */
function marksFor(count: number): string[] {
  const marks: string[] = []
  while (marks.length < count) marks.push(freeMark(marks))
  return marks
}

export default async function NewTreePage(props: PageProps<'/g/[group]/trees/new'>) {
  const [{ group: slug }, query] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, today, person } = context
  const attempt = firstOf(query['attempt'])
  const [varieties, keepers, hint] = await Promise.all([
    varietyChoices(db, actor),
    memberChoices(db, actor),
    attempt ? attemptHint(db, actor, attempt) : null,
  ])
  if (attempt && !hint) notFound()
  const count = Math.min(mostLimbs, Math.max(1, Math.trunc(Number(firstOf(query['limbs']))) || 1))
  const marks = marksFor(hint ? 1 : count)
  const mayChoose = can(actor, 'act-for-others')
  const keeperId = mayChoose ? (hint?.growerId ?? actor.memberId) : actor.memberId
  const chosen = firstOf(query['variety'])
  const values = Object.assign(
    { keeperId },
    ...marks.map((mark, i) => newLimbValues(`limbs.${i}.`, mark, hint, i === 0 ? chosen : '')),
  )
  const path = `/g/${slug}/trees/new`
  return (
    <GroupPage context={context} current="trees">
      <PageHead
        title="Add a tree"
        crumb={{ href: `/g/${slug}/trees`, label: 'Trees' }}
        lead={
          hint ? (
            <>
              It grew from <VarietyName name={hint.varietyName} />, made by {hint.growerName} on{' '}
              <RecordedDay date={hint.madeOn} today={today} />.
            </>
          ) : (
            'It gets a code that is never given to another tree. A tree with one sort has one limb.'
          )
        }
      />
      {!hint && (
        <div>
          <p id="limb-count">
            <b>How many sorts does it carry?</b> Choose before you fill the form in; limbs can be added later
            too.
          </p>
          <Filters
            label="How many limbs to enter"
            items={offered.map((limbs) => ({
              href: limbs === 1 ? path : `${path}?limbs=${limbs}`,
              label: String(limbs),
              current: limbs === marks.length,
            }))}
          />
        </div>
      )}
      <ActionForm action={addTreeAction} values={values} label="Tree" className="form read">
        <Hidden name="group" value={slug} />
        <OnceKey value={randomUUID()} />
        <TreeFields keepers={keepers} onlyKeeper={mayChoose ? null : keeperId} today={today} />
        <FieldErrors name="limbs" />
        {marks.map((mark, i) => (
          <fieldset key={mark} className="panel stack">
            <legend>
              <b>{marks.length === 1 ? 'The limb' : `Limb ${mark}`}</b>
            </legend>
            <LimbFields
              prefix={`limbs.${i}.`}
              varieties={varieties}
              inches={person.inches}
              today={today}
              compact={marks.length > 1}
              from={fromHint(hint)}
            />
          </fieldset>
        ))}
        <SubmitButton pending="Adding the tree" block>
          Add the tree
        </SubmitButton>
      </ActionForm>
    </GroupPage>
  )
}
