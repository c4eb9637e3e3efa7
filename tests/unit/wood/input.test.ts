import { describe, expect, test } from 'vitest'
import { LogCuttingSessionInput, ReportReadingInput } from '#lib/wood/input.ts'

const id = (last: number) => `018f0000-0000-7000-8000-00000000000${last}`

const session = (lots: unknown) => ({
  key: id(1),
  cutterId: id(2),
  cutOn: '2027-01-11',
  tool: '',
  toolCare: 'not_noted',
  weather: 'dry',
  note: '',
  lots,
})

const block = {
  limbId: id(3),
  sticks: '18',
  kind: 'scion_wood',
  diameter: 'pencil',
  budStage: '0',
  packaging: 'sealed_damp',
  storeId: id(4),
  note: '',
}
const emptyBlock = { ...block, limbId: '', sticks: '' }

const errorsOf = (input: unknown) => {
  const parsed = LogCuttingSessionInput.safeParse(input)
  return parsed.success ? [] : parsed.error.issues.map((issue) => [issue.path.join('.'), issue.message])
}

describe('a cutting session as a form sends it', () => {
  test('becomes numbers and dates, and what was left empty is left out', () => {
    const input = LogCuttingSessionInput.parse(session([block]))
    expect(input.lots).toEqual([
      {
        at: 0,
        limbId: id(3),
        sticks: 18,
        kind: 'scion_wood',
        diameter: 'pencil',
        budStage: 0,
        packaging: 'sealed_damp',
        storeId: id(4),
        note: undefined,
      },
    ])
    expect(input.tool).toBeUndefined()
  })

  test('leaves out blocks without limb and number, wherever they stand', () => {
    const input = LogCuttingSessionInput.parse(session([emptyBlock, block, emptyBlock]))
    expect(input.lots.map((lot) => lot.at)).toEqual([1])
  })

  test('takes from the lot above what a block leaves empty', () => {
    const second = {
      ...block,
      limbId: id(5),
      sticks: '4',
      kind: '',
      diameter: '',
      budStage: '',
      packaging: '',
      storeId: '',
    }
    const input = LogCuttingSessionInput.parse(session([block, second]))
    expect(input.lots[1]).toMatchObject({
      kind: 'scion_wood',
      diameter: 'pencil',
      budStage: 0,
      packaging: 'sealed_damp',
      storeId: id(4),
    })
  })

  test('says at the field what the first lot lacks', () => {
    expect(errorsOf(session([{ ...block, storeId: '', kind: '' }]))).toEqual([
      ['lots.0.kind', 'Choose what kind of wood it is'],
      ['lots.0.storeId', 'Choose where the wood is kept'],
    ])
  })

  test('names the block of the form even after an empty one', () => {
    expect(errorsOf(session([emptyBlock, { ...block, sticks: '' }]))).toEqual([
      ['lots.1.sticks', 'Say how many sticks were cut'],
    ])
  })

  test.each(['0', '-3', '2.5', 'many'])('does not take %s for a number of sticks', (sticks) => {
    expect(errorsOf(session([{ ...block, sticks }]))[0]?.[0]).toBe('lots.0.sticks')
  })

  test.each([[[emptyBlock, emptyBlock]], [undefined], [[]], ['nonsense']])(
    'wants at least one lot (%#)',
    (lots) => {
      expect(errorsOf(session(lots))).toEqual([
        ['lots', 'Enter at least one lot: a limb, and how many sticks'],
      ])
    },
  )

  test('wants to know about the shears and the day', () => {
    const paths = errorsOf({ ...session([block]), toolCare: '', cutOn: '2027-02-30' }).map(([path]) => path)
    expect(paths).toEqual(['cutOn', 'toolCare'])
  })
})

describe('a reading as a form sends it', () => {
  const reading = {
    key: id(1),
    storeId: id(4),
    onDay: '2027-01-11',
    atTime: '',
    typedCelsius: '39',
    unit: 'F',
  }

  test('is turned from Fahrenheit into Celsius, to the tenth', () => {
    expect(ReportReadingInput.parse(reading).celsius).toBe(3.9)
  })

  test('keeps the sign and takes a comma for a point', () => {
    expect(ReportReadingInput.parse({ ...reading, typedCelsius: '-1,5', unit: 'C' }).celsius).toBe(-1.5)
  })

  test.each([
    ['', 'Enter what the thermometer shows'],
    ['80', 'Enter a temperature a store can have, such as 3.5'],
  ])('does not take “%s” °C', (typedCelsius, message) => {
    const parsed = ReportReadingInput.safeParse({ ...reading, typedCelsius, unit: 'C' })
    expect(parsed.success ? [] : parsed.error.issues.map((issue) => issue.message)).toEqual([message])
  })

  test.each(['24:00', '7:30', 'noon'])('does not take %s for a time', (atTime) => {
    expect(ReportReadingInput.safeParse({ ...reading, atTime }).success).toBe(false)
  })
})
