import { Filters } from '#app/_ui/filters.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import type { LabelSettings } from '#app/g/[group]/wood/_parts/label-settings.ts'
import { PrintButton } from '#app/g/[group]/wood/_parts/print-button.tsx'
import { perSheet } from '#lib/formats/labels/stock.ts'

interface LabelFormProps {
  readonly href: string
  readonly settings: LabelSettings
  readonly bags: number
  readonly flags: number
}

/** What to print, on which paper, and where on a part-used sheet to begin. Not printed itself. */
export function LabelForm({ href, settings, bags, flags }: LabelFormProps) {
  const { what, paper, start, stock } = settings
  const onPaper = paper === 'letter' ? '&paper=letter' : ''
  const used = start - 1 + (what === 'bags' ? bags : flags)
  return (
    <div className="stack">
      <Filters
        label="Print"
        items={[
          { href: `${href}?what=bags${onPaper}`, label: 'Bag labels', count: bags, current: what === 'bags' },
          {
            href: `${href}?what=flags${onPaper}`,
            label: 'Stick flags',
            count: flags,
            current: what === 'flags',
          },
        ]}
      />
      <form method="get" action={href} className="acts items-end">
        <Hidden name="what" value={what} />
        <SelectField
          name="paper"
          label="Paper"
          width="mid"
          defaultValue={paper}
          options={[
            { value: 'a4', label: 'A4' },
            { value: 'letter', label: 'US Letter' },
          ]}
        />
        <NumberField
          name="start"
          label={`First free place, 1 to ${perSheet(stock)}`}
          stepper={false}
          defaultValue={start}
        />
        <button type="submit" className="btn second">
          Set
        </button>
        <PrintButton />
      </form>
      <p className="note">
        {perSheet(stock)} labels of {stock.widthMm} × {stock.heightMm} mm to the sheet; this needs{' '}
        {counted(Math.ceil(used / perSheet(stock)), 'sheet')}. Print at full size, without headers and margins
        of the browser, and try plain paper first: hold it against the labels to the light.
      </p>
    </div>
  )
}
