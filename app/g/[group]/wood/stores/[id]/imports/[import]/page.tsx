import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { instantWords } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { counted } from '#app/_ui/measures.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { storeHref } from '#app/g/[group]/wood/stores/_parts/store-links.ts'
import { takeBackImportAction } from '#app/g/[group]/wood/stores/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { getStore } from '#lib/wood/store-queries.ts'
import { findImport } from '#lib/wood/store-readings.ts'

export const metadata: Metadata = { title: 'Take an import back' }

export default async function TakeBackPage(props: PageProps<'/g/[group]/wood/stores/[id]/imports/[import]'>) {
  const { group: slug, id, import: importId } = await props.params
  const context = await memberContext(slug)
  const { db, actor } = context
  const [store, found] = await Promise.all([getStore(db, actor, id), findImport(db, actor, id, importId)])
  if (!store?.mayKeep || !found) notFound()
  const at = (instant: Date) => instantWords(instant, store.timeZone, store.today)
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title="Take an import back"
        crumb={{ href: storeHref(slug, store.storeId), label: store.name }}
        meta={`${found.fileName}: ${counted(found.readings, 'reading')} from ${at(found.from)} to ${at(found.to)}, imported by ${found.importedBy}.`}
      />
      {found.takenBack ? (
        <Notice tone="info">
          Taken back {at(found.takenBack.at)} by {found.takenBack.by}: {found.takenBack.reason}
        </Notice>
      ) : (
        <ActionForm action={takeBackImportAction} className="form read">
          <Hidden name="group" value={slug} />
          <Hidden name="importId" value={found.importId} />
          <OnceKey value={randomUUID()} />
          <TextArea
            name="reason"
            label="Why"
            help="Such as: it lay in another fridge; its clock was wrong."
            rows={2}
            maxLength={300}
          />
          <p>
            <SubmitButton kind="stop" pending="Taking them back">
              Take {counted(found.readings, 'reading')} back
            </SubmitButton>
          </p>
          <p className="note">
            The readings go, and the windows of the wood that lay there are worked out again. The import stays
            on the store’s page with your reason, and the file can be brought again.
          </p>
        </ActionForm>
      )}
    </GroupPage>
  )
}
