'use client'

import { type MouseEvent, useState } from 'react'
import { buttonClass } from '#app/_ui/button-class.ts'
import { FieldErrors } from '#app/_ui/form/field.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'

interface Choice {
  readonly value: string
  readonly label: string
  readonly group?: string
}

interface LotBlocksProps {
  /** Where the form is, for adding a block without script. */
  readonly href: string
  readonly count: number
  readonly most: number
  readonly limbs: readonly Choice[]
  readonly kinds: readonly Choice[]
  readonly diameters: readonly Choice[]
  readonly budStages: readonly { readonly value: string; readonly label: string; readonly note?: string }[]
  readonly packagings: readonly Choice[]
  readonly stores: readonly Choice[]
}

/**
 * The lots of a session, one block each. Without script one more block comes with the page, to which the button
 * sends all entries along in the address; with script it comes at once.
 */
export function LotBlocks({ href, count, most, ...choices }: LotBlocksProps) {
  const [shown, setShown] = useState(count)
  const add = (event: MouseEvent) => {
    event.preventDefault()
    setShown(shown + 1)
  }
  return (
    <>
      <FieldErrors name="lots" />
      {Array.from({ length: shown }, (_, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a block is its place in the form
        <LotBlock key={at} at={at} {...choices} />
      ))}
      {shown < most && (
        <p>
          <button
            type="submit"
            className={buttonClass({ block: true })}
            formMethod="get"
            formAction={`${href}#lot-${shown + 1}`}
            name="lots"
            value={shown + 1}
            onClick={add}
          >
            One more lot
          </button>
        </p>
      )}
    </>
  )
}

type LotBlockProps = Omit<LotBlocksProps, 'href' | 'count' | 'most'> & { readonly at: number }

function LotBlock({ at, limbs, kinds, diameters, budStages, packagings, stores }: LotBlockProps) {
  const name = (field: string) => `lots.${at}.${field}`
  const above = at === 0 ? {} : { empty: 'As the lot above' }
  return (
    <fieldset className="panel stack" id={`lot-${at + 1}`}>
      <legend className="vh">Lot {at + 1}</legend>
      <h2 className="text-h3">Lot {at + 1}</h2>
      <SelectField
        name={name('limbId')}
        label="Tree and limb"
        help="One lot is one limb on one day, so two trees are two lots."
        empty={at === 0 ? 'Choose the limb' : 'None: leave this block empty'}
        options={limbs}
      />
      <NumberField name={name('sticks')} label="Sticks" min={1} max={2000} />
      <PickGroup
        name={name('budStage')}
        legend="Buds when cut"
        options={budStages}
        defaultValue={budStages[0]?.value}
      />
      <SelectField name={name('packaging')} label="Packed in" options={packagings} {...above} />
      <SelectField
        name={name('storeId')}
        label="Kept now in"
        options={stores}
        empty={at === 0 ? 'Choose the store' : 'As the lot above'}
      />
      <SelectField name={name('kind')} label="Kind of wood" options={kinds} {...above} />
      <SelectField name={name('diameter')} label="Thickness" options={diameters} {...above} />
      <TextField name={name('note')} label="Note" help="May be left empty." maxLength={300} />
    </fieldset>
  )
}
