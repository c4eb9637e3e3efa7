import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { Tick } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { Section } from '#app/_ui/section.tsx'
import { soldStocks } from '#lib/formats/labels/stock.ts'

interface PdfFormProps {
  readonly slug: string
  /** Which lots: the name of the field and its value. */
  readonly of: { readonly name: 'lot' | 'session' | 'swap'; readonly value: string }
  readonly bags: number
  readonly flags: number
}

const rounded = (mm: number) => String(Math.round(mm * 100) / 100)

/** Labels as a file, on sheets of any usual size. Works without script: the browser opens what comes back. */
export function PdfForm({ slug, of, bags, flags }: PdfFormProps) {
  return (
    <Section id="pdf" title="As a PDF, by size of label">
      <p className="read">
        {counted(bags, 'bag label')}, or {counted(flags, 'stick flag')}. A label for a bag carries everything;
        a flag the code, the name and the day of the cut. Print at full size, not “fit to page”.
      </p>
      <form method="get" action={`/g/${slug}/labels/pdf`} className="form">
        <Hidden name={of.name} value={of.value} />
        <SelectField
          name="sheet"
          label="Sheet"
          defaultValue="a4-8"
          options={soldStocks.map(({ key, label, takes }) => ({
            value: key,
            label,
            group: takes === 'bags' ? 'Labels for bags' : 'Flags for sticks',
          }))}
        />
        <NumberField
          name="start"
          label="First free place"
          help="Counted along the rows of a part-used sheet. 1 for a whole one."
          min={1}
          defaultValue={1}
        />
        <Tick
          name="outlines"
          label="Draw the edges of the labels"
          note="To try on plain paper, held to the light."
        />
        <details>
          <summary>When the printer is a little off</summary>
          <div className="stack">
            <p className="note">In millimetres. An empty field means what is usual for the sheet.</p>
            <NumberField name="top" label="From the upper edge to the first label" decimal />
            <NumberField name="left" label="From the left edge to the first label" decimal />
            <NumberField name="across" label="From one label to the next, across" decimal />
            <NumberField name="down" label="From one label to the next, down" decimal />
            <UsualPlaces />
          </div>
        </details>
        <button type="submit" className="btn second">
          Make the PDF
        </button>
      </form>
    </Section>
  )
}

function UsualPlaces() {
  return (
    <div className="scroll">
      <table className="tbl dense">
        <caption className="note">What is usual, mm</caption>
        <thead>
          <tr>
            <th scope="col">Sheet</th>
            <th scope="col" className="r">
              Above
            </th>
            <th scope="col" className="r">
              Left
            </th>
            <th scope="col" className="r">
              Across
            </th>
            <th scope="col" className="r">
              Down
            </th>
          </tr>
        </thead>
        <tbody>
          {soldStocks.map(({ key, label, stock }) => (
            <tr key={key}>
              <th scope="row">{label}</th>
              <td className="r">{rounded(stock.topMm)}</td>
              <td className="r">{rounded(stock.leftMm)}</td>
              <td className="r">{rounded(stock.widthMm + stock.gapXMm)}</td>
              <td className="r">{rounded(stock.heightMm + stock.gapYMm)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
