import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { instantWords } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { AuthorityCaution } from '#app/g/[group]/health/_parts/authority-caution.tsx'
import { HoldVariety, holdSubject } from '#app/g/[group]/health/_parts/hold-name.tsx'
import { SameTool, WhereItWent } from '#app/g/[group]/health/_parts/hold-wood.tsx'
import { releaseHoldAction } from '#app/g/[group]/health/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { getHold } from '#lib/health/queries.ts'

export const metadata: Metadata = { title: 'Health hold' }

export default async function HoldPage(props: PageProps<'/g/[group]/health/[id]'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  const view = await getHold(context.db, context.actor, id)
  if (!view) notFound()
  const { done } = await props.searchParams
  const { hold, timeZone } = view
  const { today } = context
  const isOpen = hold.releasedAt === null
  return (
    <GroupPage context={context} current="health">
      <PageHead
        title={`${holdSubject(hold)} ${isOpen ? 'is' : 'was'} on hold`}
        crumb={{ href: `/g/${slug}/health`, label: 'Health holds' }}
        meta={
          <>
            <HoldVariety hold={hold} />. Held {instantWords(hold.placedAt, timeZone, today)} by{' '}
            {hold.placedBy}.{' '}
            <Link href={`/g/${slug}/trees/${hold.treeCode}`} prefetch={false}>
              Its tree
            </Link>
          </>
        }
        lead={hold.reason}
      />
      {done === 'placed' && (
        <Notice tone="stop">The hold is placed. Nothing is given from this wood any more.</Notice>
      )}
      {done === 'released' && <Notice>The hold is released.</Notice>}
      {hold.releasedAt && (
        <Notice tone="info">
          Released {instantWords(hold.releasedAt, timeZone, today)} by {hold.releasedBy}: {hold.releaseReason}
        </Notice>
      )}
      <AuthorityCaution region={context.group.region} />
      <WhereItWent slug={slug} view={view} today={today} />
      <SameTool slug={slug} view={view} today={today} />
      {isOpen && view.mayRelease && (
        <Section id="release" title="Release the hold">
          <ActionForm action={releaseHoldAction} label="Release the hold" className="form read">
            <Hidden name="group" value={slug} />
            <Hidden name="holdId" value={hold.holdId} />
            <TextArea
              name="reason"
              label="Why the wood may move again"
              help="Who looked, and what they said. It stays on the record."
              rows={2}
              maxLength={500}
            />
            <p>
              <SubmitButton kind="second" pending="Releasing the hold">
                Release the hold
              </SubmitButton>
            </p>
          </ActionForm>
        </Section>
      )}
    </GroupPage>
  )
}
