import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { counted, type TemperatureUnit } from '#app/_ui/measures.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { ReadingsChart } from '#app/_ui/readings-chart.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { Columns, Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { PreviewFacts, PreviewTrouble } from '#app/g/[group]/wood/stores/_parts/preview-facts.tsx'
import { ReadingQuestions } from '#app/g/[group]/wood/stores/_parts/reading-questions.tsx'
import { importHref, storeHref } from '#app/g/[group]/wood/stores/_parts/store-links.ts'
import { importReadingsAction } from '#app/g/[group]/wood/stores/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { ImportAnswers } from '#lib/wood/import-input.ts'
import { importRefusalWords } from '#lib/wood/import-refusal-words.ts'
import type { ImportRefusal } from '#lib/wood/import-refusals.ts'
import { previewReadings, type ReadingsPreview } from '#lib/wood/preview-readings.ts'
import { getStore, type StoreView } from '#lib/wood/store-queries.ts'

export const metadata: Metadata = { title: 'A logger’s readings' }

const nothingAnswered: ImportAnswers = ImportAnswers.parse({})

export default async function ImportPage(props: PageProps<'/g/[group]/wood/stores/[id]/import/[draft]'>) {
  const { group: slug, id, draft: draftId } = await props.params
  const context = await memberContext(slug)
  const { db, actor } = context
  const store = await getStore(db, actor, id)
  if (!store?.mayKeep) notFound()
  const asked = ImportAnswers.safeParse(await props.searchParams)
  const answers = asked.success ? asked.data : nothingAnswered
  const shown = await previewReadings(db, actor, { storeId: store.storeId, draftId }, answers)
  const unit = context.person.fahrenheit ? 'F' : 'C'
  const questions = shown.ok ? null : questionsOf(shown.refusal)
  const isGone = !shown.ok && shown.refusal.kind === 'draft-gone'
  const part = { slug, store, unit, draftId, answers } as const
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title="A logger’s readings"
        crumb={{ href: storeHref(slug, store.storeId), label: store.name }}
        meta={
          shown.ok
            ? `${shown.value.fileName}, for ${store.name}. Nothing is written yet.`
            : `For ${store.name}. Nothing is written yet.`
        }
      />
      {shown.ok ? (
        <Preview {...part} preview={shown.value} />
      ) : (
        !questions && <RefusedFile refusal={shown.refusal} back={storeHref(slug, store.storeId)} />
      )}
      {!isGone && (
        <Section id="how" title={questions ? 'To be answered first' : 'How the file is read'}>
          <div className="read">
            <ReadingQuestions
              action={importHref(slug, store.storeId, draftId)}
              questions={questions}
              answers={answers}
              timeZone={store.timeZone}
            />
          </div>
        </Section>
      )}
    </GroupPage>
  )
}

const questionsOf = (refusal: ImportRefusal) =>
  refusal.kind === 'not-readable' && refusal.why.kind === 'questions' ? refusal.why.questions : null

function RefusedFile({ refusal, back }: { readonly refusal: ImportRefusal; readonly back: string }) {
  const { message, next } = importRefusalWords(refusal)
  return <Refusal message={message} next={[...next, { href: back, label: 'Back to the store' }]} />
}

interface PreviewProps {
  readonly slug: string
  readonly store: StoreView
  readonly unit: TemperatureUnit
  readonly draftId: string
  readonly answers: ImportAnswers
  readonly preview: ReadingsPreview
}

function Preview({ slug, store, unit, draftId, answers, preview }: PreviewProps) {
  return (
    <>
      <Section id="found" title="What is in it">
        <Columns kind="even">
          <PreviewFacts store={store} preview={preview} unit={unit} />
          <div>
            {preview.hours.length > 0 && (
              <ReadingsChart
                hours={preview.hours}
                unit={unit}
                timeZone={store.timeZone}
                title={`Temperatures in ${preview.fileName}`}
                id="preview-chart"
              />
            )}
          </div>
        </Columns>
        {preview.fresh > 0 ? (
          <ActionForm action={importReadingsAction} label="Import these readings">
            <Hidden name="group" value={slug} />
            <Hidden name="storeId" value={store.storeId} />
            <Hidden name="draftId" value={draftId} />
            <Hidden name="shown" value={preview.mark} />
            {Object.entries(answers).map(([name, value]) =>
              value === null ? null : <Hidden key={name} name={name} value={String(value)} />,
            )}
            <OnceKey value={randomUUID()} />
            <p>
              <SubmitButton pending="Importing the readings">
                Import {counted(preview.fresh, 'reading')}
              </SubmitButton>
            </p>
          </ActionForm>
        ) : (
          <NothingNew preview={preview} />
        )}
      </Section>
      <PreviewTrouble store={store} preview={preview} />
    </>
  )
}

function NothingNew({ preview }: { readonly preview: ReadingsPreview }) {
  return (
    <Notice tone="info">
      {preview.already > 0
        ? 'Every reading of this file is in the store already. There is nothing to import.'
        : 'No row could be read as a reading. See below why, and how the file is read.'}
    </Notice>
  )
}
