import { randomUUID } from 'node:crypto'
import { instantWords } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import { Columns, Section } from '#app/_ui/section.tsx'
import { reportReadingAction } from '#app/g/[group]/wood/actions.ts'
import { ImportForm } from '#app/g/[group]/wood/stores/_parts/import-form.tsx'
import { ImportList } from '#app/g/[group]/wood/stores/_parts/import-list.tsx'
import { StoreChart } from '#app/g/[group]/wood/stores/_parts/store-chart.tsx'
import type { StoreView } from '#lib/wood/store-queries.ts'
import type { StoreReadingsView } from '#lib/wood/store-readings.ts'

interface StoreReadingsProps {
  readonly slug: string
  readonly store: StoreView
  readonly read: StoreReadingsView
  readonly unit: TemperatureUnit
}

/** A logger's files: bring one, see what came, take it back. */
export function StoreImports({ slug, store, read, unit }: StoreReadingsProps) {
  if (!store.mayKeep && read.imports.length === 0) return null
  return (
    <Section id="imports" title="From a logger">
      {read.imports.length > 0 && <ImportList slug={slug} store={store} imports={read.imports} unit={unit} />}
      {store.mayKeep && <ImportForm slug={slug} storeId={store.storeId} />}
    </Section>
  )
}

/** What was read in a store, and the form for one reading more. */
export function StoreReadings({ slug, store, read, unit }: StoreReadingsProps) {
  return (
    <Section id="readings" title="Readings">
      <StoreChart slug={slug} store={store} read={read} unit={unit} />
      <Columns kind="even">
        <ReadingTable store={store} unit={unit} />
        {store.mayKeep && store.closedOn === null && (
          <ActionForm action={reportReadingAction} values={{ onDay: store.today }} label="Record a reading">
            <Hidden name="group" value={slug} />
            <Hidden name="storeId" value={store.storeId} />
            <Hidden name="unit" value={unit} />
            <OnceKey value={randomUUID()} />
            <NumberField name="typedCelsius" label={`Thermometer shows, °${unit}`} decimal />
            <DateField name="onDay" label="Day" max={store.today} today={store.today} />
            <TextField
              name="atTime"
              label="Time"
              type="time"
              width="short"
              help="Leave empty for now, or noon of a day before."
            />
            <p>
              <SubmitButton kind="second" pending="Recording the reading">
                Record the reading
              </SubmitButton>
            </p>
          </ActionForm>
        )}
      </Columns>
    </Section>
  )
}

function ReadingTable({ store, unit }: Pick<StoreReadingsProps, 'store' | 'unit'>) {
  if (store.readings.length === 0) {
    return (
      <p className="soft">
        No reading yet. One a week, from a thermometer lying with the wood, tells a great deal.
      </p>
    )
  }
  return (
    <table className="tbl">
      <caption>The latest at the top</caption>
      <thead>
        <tr>
          <th scope="col">When</th>
          <th scope="col" className="r">
            °{unit}
          </th>
          <th scope="col">By</th>
        </tr>
      </thead>
      <tbody>
        {store.readings.map((reading) => (
          <tr key={reading.at.getTime()}>
            <th scope="row">{instantWords(reading.at, store.timeZone, store.today)}</th>
            <td className="r">{temperature(reading.celsius, unit).split(' ')[0]}</td>
            <td className="soft">
              {reading.basis === 'logger' ? 'logger' : (reading.takenBy ?? 'not noted')}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
