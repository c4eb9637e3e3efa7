import { describe, expect, test } from 'vitest'
import { required } from '#lib/kernel/assert.ts'
import { storageProfiles } from '#lib/viability/storage-profiles.ts'
import { askWindow } from '#lib/wood/ask-window.ts'
import { longestHistory } from '#lib/wood/window-question.ts'

const now = new Date('2027-02-04T09:00:00Z')
const apple = { crop: 'apple', cut: '2027-01-11', celsius: '4' }

const answer = (query: Readonly<Record<string, string>>) => {
  const asked = askWindow({ ...apple, ...query }, now)
  return required(asked.ok ? asked.value : null, `an answer, not ${JSON.stringify(asked)}`)
}
const errors = (query: Readonly<Record<string, string>>) => {
  const asked = askWindow({ ...apple, ...query }, now)
  return asked.ok ? {} : asked.refusal.fields
}

describe('the answer of the calculator', () => {
  // Section 2g of the storage table: apple at a steady 4 °C.
  test('is the window of the storage table', () => {
    const { days, window, evidence } = answer({})
    expect(days).toEqual({ early: 70, likely: 125, late: 218 })
    expect(window).toMatchObject({ likely: '2027-05-16', limitedBy: 'reserve', state: 'good' })
    expect(evidence).toMatchObject({ grade: 'fair', basis: 'B' })
  })

  test('takes °F, and an unread fridge where no temperature is given', () => {
    expect(answer({ celsius: '39.2 F' }).days).toEqual(answer({}).days)
    const unread = answer({ celsius: '' })
    // Check value 28 of the storage table: a fridge of unknown temperature, apple 45/119/251.
    expect(unread.days).toEqual({ early: 45, likely: 119, late: 251 })
    expect(unread.evidence.basis).toBe('C')
    expect(unread.window.flags).toContain('temperature-assumed')
  })

  test('is there for wood that is still to be cut', () => {
    expect(answer({ cut: '2027-03-01' }).days).toEqual({ early: 70, likely: 125, late: 218 })
  })

  test('of budwood cut in leaf is short, but not of an evergreen', () => {
    expect(answer({ wood: 'budwood' })).toMatchObject({ isInLeaf: true, profile: { key: 'summer_budwood' } })
    expect(answer({ wood: 'budwood', crop: 'citrus_budwood', celsius: '5' })).toMatchObject({
      isInLeaf: false,
    })
  })

  test('follows what was written down: each line holds until the next', () => {
    const steps = answer({ celsius: '', history: '2027-01-11 4\n2027-01-31 15\n2027-02-05 4' })
    // Check value 14: days 20 to 25 on a porch at 15 °C, likely 116 in place of 125.
    expect(steps.days.likely).toBe(116)
    expect(steps.evidence.basis).toBe('B')
    expect(steps.stays).toEqual([{ from: '2027-01-11', to: null, basis: 'typed' }])
  })

  test('follows a logger hour by hour and counts its holes as unread', () => {
    const hours = (count: number, skip: (hour: number) => boolean = () => false) =>
      Array.from({ length: count }, (_, hour) => hour)
        .filter((hour) => !skip(hour))
        .map((hour) => `2027-01-${String(12 + Math.floor(hour / 24)).padStart(2, '0')} ${hour % 24}:00, 4`)
        .join('\n')
    const whole = answer({ celsius: '', history: `2027-01-11 18:00 4\n${hours(72)}` })
    expect(whole.days).toEqual({ early: 70, likely: 125, late: 218 })
    expect(whole.stays).toEqual([{ from: '2027-01-11', to: null, basis: 'logger' }])
    const torn = answer({
      celsius: '',
      history: `2027-01-11 18:00 4\n${hours(72, (hour) => hour > 10 && hour < 60)}`,
    })
    expect(torn.stays.map(({ basis }) => basis)).toEqual(['logger', 'assumed', 'logger'])
    expect(torn.days.early).toBeLessThan(70)
  })

  test('says for a day on which it is wanted how it stands, when to cut and how cold to keep it', () => {
    const { swap } = answer({ swap: '2027-04-30' })
    expect(swap).toMatchObject({
      state: 'soon',
      celsius: 4,
      // 70 days of good keeping: from 19 February, whose noon is not at the very limit.
      cutToBeGood: { from: '2027-02-20', until: '2027-04-30' },
    })
    // Before the noon of the day at a tenth too warm, after it at the warmest.
    const warmest = required(swap?.warmestCelsius ?? null, 'a temperature')
    expect(answer({ celsius: String(warmest) }).window.early >= '2027-04-30').toBe(true)
    expect(answer({ celsius: String(warmest + 0.3) }).window.early < '2027-04-30').toBe(true)
  })

  test('says when no store is cold enough', () => {
    expect(answer({ swap: '2028-04-30' }).swap?.warmestCelsius).toBeNull()
  })

  test('says how many sticks to take for a chance of nine in ten', () => {
    expect(answer({ rate: '60' }).sticks).toBe(3)
    expect(answer({}).sticks).toBeNull()
  })

  test('says what two degrees colder would add', () => {
    expect(answer({}).lengthening).toMatchObject({ colderBy: 2, celsius: 2 })
    expect(answer({ celsius: '-2' }).lengthening).toBeNull()
  })

  test.each(Object.keys(storageProfiles).filter((key) => key !== 'summer_budwood'))(
    'is there for %s',
    (crop) => {
      const { days } = answer({ crop })
      expect(days.early <= days.likely && days.likely <= days.late).toBe(true)
    },
  )
})

describe('a question that cannot be answered', () => {
  test.each([
    ['crop', ''],
    ['crop', 'triffid'],
    ['crop', 'summer_budwood'],
    ['crop', 'toString'],
    ['wood', 'driftwood'],
    ['cut', ''],
    ['cut', '2027-02-30'],
    ['cut', '1066-10-14'],
    ['celsius', 'cold'],
    ['celsius', '-80'],
    ['buds', '100'],
    ['packing', 'suitcase'],
    ['swap', '2026-12-01'],
    ['swap', 'soon'],
    ['rate', '0'],
    ['history', '2027-01-01 4'],
    ['history', 'on Tuesday it was 4'],
    ['history', '2027-01-12 4\n'.repeat(longestHistory / 10)],
  ])('is refused at its field: %s=%.20s', (field, text) => {
    expect(Object.keys(errors({ [field]: text }))).toEqual([field])
  })

  test('names three bad lines and counts the others', () => {
    const rows = Array.from({ length: 5 }, (_, i) => `bad line ${i + 1}`)
    expect(errors({ history: rows.join('\n') })['history']).toEqual([
      'Line 1 (“bad line 1”) is not a day and a temperature.',
      'Line 2 (“bad line 2”) is not a day and a temperature.',
      'Line 3 (“bad line 3”) is not a day and a temperature.',
      '2 more cannot be used either.',
    ])
  })
})
