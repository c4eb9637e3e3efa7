import { randomUUID } from 'node:crypto'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { FileField } from '#app/_ui/form/file-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { draftReadingsAction } from '#app/g/[group]/wood/stores/actions.ts'

/** Brings a logger's file, to be looked at before anything is written. */
export function ImportForm({ slug, storeId }: { readonly slug: string; readonly storeId: string }) {
  return (
    <ActionForm action={draftReadingsAction} label="Import a logger’s readings" className="form read">
      <Hidden name="group" value={slug} />
      <Hidden name="storeId" value={storeId} />
      <OnceKey value={randomUUID()} />
      <FileField
        name="file"
        label="The logger’s file"
        accept=".csv,.txt,.tsv,text/csv,text/plain"
        help="CSV or text, as the logger’s program exports it: up to 50,000 rows and 3 MB. Any order of columns, °C or °F."
      />
      <TextArea name="pasted" label="Or paste its text" rows={4} help="With the line of headings." />
      <p>
        <SubmitButton kind="second" pending="Reading the file">
          Look at the readings first
        </SubmitButton>
      </p>
      <p className="note">Nothing is written until you have seen what is in it.</p>
    </ActionForm>
  )
}
