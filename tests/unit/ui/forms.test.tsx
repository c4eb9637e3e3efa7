import type { ReactNode } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { ErrorSummary } from '#app/_ui/form/error-summary.tsx'
import { FieldErrors } from '#app/_ui/form/field.tsx'
import { flatErrors } from '#app/_ui/form/flat-errors.ts'
import { FormAnswer } from '#app/_ui/form/form-answer.tsx'
import { FormContext, fieldId } from '#app/_ui/form/form-context.ts'
import { type FormValues, formValuesOf, idle } from '#app/_ui/form/form-state.ts'
import { HookForm } from '#app/_ui/form/hook-form.tsx'
import { LiveTotal } from '#app/_ui/form/live-total.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { PickGroup, Tick } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { civilDate } from '#lib/kernel/civil-date.ts'

const idOf = (name: string) => fieldId('cut', name)

interface Failed {
  readonly errors?: Record<string, string[]>
  readonly values?: FormValues
  readonly isPending?: boolean
}

/** A field as it comes back after its form failed. */
const inForm = (field: ReactNode, { errors = {}, values = {}, isPending = false }: Failed) =>
  renderToStaticMarkup(
    <FormContext
      value={{
        idPrefix: 'cut',
        isPending,
        doneCount: 0,
        values,
        errorsOf: (name) => errors[name] ?? [],
        bind: (name) => ({ name }),
      }}
    >
      {field}
    </FormContext>,
  )

describe('the summary of errors', () => {
  const errors = {
    'lots.1.sticks': ['Enter how many sticks you cut from tree 5.'],
    wiped: ['Say whether you wiped the shears between trees.'],
    '': ['Enter at least one tree.'],
  }
  const html = renderToStaticMarkup(<ErrorSummary errors={errors} idOf={idOf} />)

  test('counts them in words and can take the focus', () => {
    expect(html).toContain('Three things to put right')
    expect(html).toContain('role="alert"')
    expect(html).toContain('tabindex="-1"')
  })

  test('links each to the control that it is about', () => {
    const field = inForm(<NumberField name="lots.1.sticks" label="Sticks" />, { errors })
    const picks = inForm(
      <PickGroup name="wiped" legend="Wiped?" options={[{ value: 'yes', label: 'Yes' }]} />,
      { errors },
    )
    const links = [...html.matchAll(/href="#([^"]+)"/g)].map((match) => match[1])
    expect(links).toEqual(['cut-lots.1.sticks', 'cut-wiped'])
    expect(field).toMatch(/<input[^>]* id="cut-lots\.1\.sticks"/)
    expect(picks).toMatch(/<input[^>]* id="cut-wiped"/)
  })

  test('has an error of the whole form as text, as there is nowhere to go', () => {
    expect(html).toContain('<li>Enter at least one tree.</li>')
  })

  test('is not there when nothing is wrong', () => {
    expect(renderToStaticMarkup(<ErrorSummary errors={{}} idOf={idOf} />)).toBe('')
  })
})

describe('a field that was wrong', () => {
  const errors = { who: ['Say who cut it.'] }

  test('repeats the sentence of the summary and ties it to the control', () => {
    const html = inForm(<TextField name="who" label="Cut by" help="A member." />, { errors })
    expect(html).toContain('class="field bad"')
    expect(html).toContain('<span class="err" id="cut-who-error">Say who cut it.</span>')
    expect(html).toContain('aria-invalid="true"')
    expect(html).toContain('aria-describedby="cut-who-help cut-who-error"')
  })

  test('ties it to a whole group of choices', () => {
    const html = inForm(<PickGroup name="who" legend="Who" options={[{ value: 'a', label: 'A' }]} />, {
      errors,
    })
    expect(html).toContain('<fieldset class="field bad" aria-describedby="cut-who-error">')
  })

  test('and one that was right is left alone', () => {
    const html = inForm(<TextField name="note" label="Note" />, { errors })
    expect(html).not.toContain('bad')
    expect(html).not.toContain('aria-')
  })

  test('shows what is wrong with a list where the list is', () => {
    const html = inForm(<FieldErrors name="lots" />, { errors: { lots: ['Add a tree.'] } })
    expect(html).toContain('id="cut-lots"')
    expect(html).toContain('Add a tree.')
  })
})

test('the entries of a form that failed are kept', () => {
  const values = {
    who: 'Wren',
    on: '2027-02-03',
    'lots.0.sticks': '18x',
    wet: 'wet',
    tools: ['a', 'b'],
    note: 'after frost',
    sure: 'yes',
    store: 'shed',
  }
  const keep = (field: ReactNode) => inForm(field, { values })
  expect(keep(<TextField name="who" label="Who" />)).toContain('value="Wren"')
  expect(keep(<DateField name="on" label="Day" defaultValue={civilDate('2027-02-04')} />)).toContain(
    'value="2027-02-03"',
  )
  expect(keep(<NumberField name="lots.0.sticks" label="Sticks" />)).toContain('value="18x"')
  expect(keep(<TextArea name="note" label="Note" />)).toContain('>after frost</textarea>')
  expect(keep(<Tick name="sure" label="Sure" />)).toContain('checked=""')
  const options = [
    { value: 'a', label: 'A' },
    { value: 'b', label: 'B' },
    { value: 'c', label: 'C' },
  ]
  const ticks = keep(<PickGroup name="tools" legend="Tools" many options={options} />)
  expect(ticks.match(/checked=""/g)).toHaveLength(2)
  const select = keep(
    <SelectField
      name="store"
      label="Store"
      empty="Choose one"
      options={[
        { value: 'fridge', label: 'Fridge' },
        { value: 'shed', label: 'Shed' },
      ]}
    />,
  )
  expect(select).toContain('<option value="shed" selected="">Shed</option>')
})

test('a password is never sent back', () => {
  const html = inForm(<TextField name="password" label="Password" type="password" />, {
    values: { password: 'secret words' },
  })
  expect(html).not.toContain('secret words')
})

test('a form that is checked in the browser holds its values before any script has run', () => {
  const html = renderToStaticMarkup(
    <HookForm
      action={async () => idle}
      schema={z.object({ lots: z.array(z.object({ sticks: z.string() })) })}
      values={{ 'lots.0.sticks': '18' }}
      id="cut"
    >
      <NumberField name="lots.0.sticks" label="Sticks" />
      <SubmitButton>Save</SubmitButton>
    </HookForm>,
  )
  const input = html.match(/<input[^>]*>/)?.[0] ?? ''
  expect(input).toContain('name="lots.0.sticks"')
  expect(input).toContain('id="cut-lots.0.sticks"')
  expect(input).toContain('value="18"')
  expect(html).toContain('type="submit"')
  expect(html).not.toContain('role="alert"')
})

describe('without script', () => {
  const html = renderToStaticMarkup(
    <ActionForm action={async () => idle} values={{ a: '2', b: '1' }} id="seen">
      <OnceKey value="11111111-1111-4111-8111-111111111111" />
      <NumberField name="a" label="Moving" />
      <DateField name="on" label="Day" today={civilDate('2027-02-04')} />
      <LiveTotal names={['a', 'b']} label="Must come to 4" must={4} />
      <SubmitButton>Save</SubmitButton>
    </ActionForm>,
  )

  test('there are no buttons but the one that sends the form', () => {
    expect(html.match(/<button/g)).toHaveLength(1)
    expect(html).toContain('type="submit"')
  })

  test('fields hold what they were given and the sum is that of the last rendering', () => {
    expect(html).toMatch(/<input[^>]* name="a"[^>]* value="2"/)
    expect(html).toContain('3 of 4')
    expect(html).toContain('name="key" value="11111111-1111-4111-8111-111111111111"')
  })

  test('our own messages stand instead of those of the browser', () => {
    expect(html).toMatch(/<form[^>]* noValidate=""/i)
  })
})

test('while a form is under way its button says so and keeps the focus', () => {
  const html = inForm(<SubmitButton pending="Saving the check">Save</SubmitButton>, { isPending: true })
  expect(html).toContain('aria-disabled="true"')
  expect(html).toContain('Saving the check')
  expect(html).not.toContain(' disabled')
})

describe('the answer of an action', () => {
  const values = {}

  test('a refusal says what happened and what can be done', () => {
    const html = renderToStaticMarkup(
      <FormAnswer
        state={{
          status: 'refused',
          message: 'That stick has just gone.',
          next: ['Wait for one.'],
          values,
        }}
        turn={1}
        idOf={idOf}
      />,
    )
    expect(html).toContain('role="alert"')
    expect(html).toContain('That stick has just gone.')
    expect(html).toContain('<li>Wait for one.</li>')
  })

  test('what was done is announced without alarm', () => {
    const html = renderToStaticMarkup(
      <FormAnswer state={{ status: 'done', message: 'Saved.' }} turn={1} idOf={idOf} />,
    )
    expect(html).toContain('role="status"')
    expect(html).not.toContain('role="alert"')
  })

  test('nothing is said before anything was sent', () => {
    expect(renderToStaticMarkup(<FormAnswer state={idle} turn={0} idOf={idOf} />)).toBe('')
  })
})

test('posted values keep repeated names as lists and leave out what React adds and files', () => {
  const data = new FormData()
  data.append('who', 'Wren')
  data.append('tools', 'a')
  data.append('tools', 'b')
  data.append('tools', 'c')
  data.append('$ACTION_ID_1', '')
  data.append('photo', new Blob(['x']), 'x.jpg')
  expect(formValuesOf(data)).toEqual({ who: 'Wren', tools: ['a', 'b', 'c'] })
})

test('nested errors are found by the dotted name of their field', () => {
  const nested = {
    who: { type: 'custom', message: 'Say who.', ref: {} },
    lots: [undefined, { sticks: { type: 'custom', message: 'How many?' } }],
    trees: { root: { type: 'custom', message: 'Add a tree.' } },
    root: { server: { type: 'custom', message: 'Not today.' } },
  }
  expect(flatErrors(nested)).toEqual({
    who: ['Say who.'],
    'lots.1.sticks': ['How many?'],
    trees: ['Add a tree.'],
    '': ['Not today.'],
  })
})
