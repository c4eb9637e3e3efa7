import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type LoggerAnswers, type LoggerFile, readLogger } from '#lib/formats/csv/read-logger.ts'
import { readMoment } from '#lib/formats/csv/read-moment.ts'
import { gapsBetween } from '#lib/formats/csv/reckon-readings.ts'

const setting = { timeZone: 'Europe/London', now: new Date('2026-11-25T12:00:00Z') }
const unanswered: LoggerAnswers = {
  days: null,
  unit: null,
  clock: 'wall',
  timeColumn: null,
  temperatureColumn: null,
}
const bytes = (text: string) => new TextEncoder().encode(text)
const answer = (text: string, more: Partial<LoggerAnswers> = {}, zone = setting.timeZone) =>
  readLogger(bytes(text), { ...unanswered, ...more }, { ...setting, timeZone: zone })

function read(text: string, more: Partial<LoggerAnswers> = {}, zone = setting.timeZone): LoggerFile {
  const result = answer(text, more, zone)
  if (!result.ok) throw new Error(JSON.stringify(result.refusal))
  return result.value
}

const said = ({ readings }: LoggerFile) => readings.map(({ at, celsius }) => [at.toISOString(), celsius])
const questions = (text: string, more: Partial<LoggerAnswers> = {}) => {
  const result = answer(text, more)
  if (result.ok || result.refusal.kind !== 'questions') throw new Error('No question was asked')
  return result.refusal.questions
}

describe('the columns of a logger’s file', () => {
  const expected = [
    ['2026-02-01T10:00:00.000Z', 3.5],
    ['2026-02-01T11:00:00.000Z', 4],
  ]

  test.each([
    ['time first', 'Time,Temperature (°C)\n2026-02-01 10:00,3.5\n2026-02-01 11:00,4.0\n'],
    ['temperature first', 'Temp °C,Date/Time\n3.5,2026-02-01 10:00\n4.0,2026-02-01 11:00\n'],
    ['day and time apart', 'No.,Date,Time,Celsius\n1,2026-02-01,10:00:00,3.5\n2,2026-02-01,11:00:00,4\n'],
    [
      'semicolons and decimal commas',
      'Zeitpunkt;Temperatur [°C]\n01.02.2026 10:00;3,5\n01.02.2026 11:00;4,0\n',
    ],
    ['tabs', 'timestamp\ttemperature_c\n2026-02-01T10:00:00Z\t3.5\n2026-02-01T11:00:00Z\t4\n'],
    ['quoted decimal commas', 'Date Time,Temp (°C)\n2026-02-01 10:00,"3,5"\n2026-02-01 11:00,"4,0"\n'],
    ['Fahrenheit', 'Date Time,Temperature (°F)\n2026-02-01 10:00,38.3\n2026-02-01 11:00,39.2\n'],
    ['the unit in a column of its own', 'time,value,unit\n2026-02-01 10:00,38.3,F\n2026-02-01 11:00,4,C\n'],
    ['the unit behind the number', 'time,reading\n2026-02-01 10:00,3.5 °C\n2026-02-01 11:00,39.2°F\n'],
    [
      'other columns, and a lower limit',
      'id,Humidity %,Low alarm temp °C,When,Temp °C\n1,80,0,2026-02-01 10:00,3.5\n2,81,0,2026-02-01 11:00,4\n',
    ],
    [
      'lines of the logger’s own first',
      'Plot Title: "Fridge 2"\nSerial;1,234\nUnit: °C\n\n#,Date Time,Temp\n1,2026-02-01 10:00,3.5\n2,2026-02-01 11:00,4\n',
    ],
    ['a zone in the heading', 'Date Time (GMT+01:00),Temp °C\n2026-02-01 11:00,3.5\n2026-02-01 12:00,4\n'],
    [
      'Windows line ends and a byte order mark',
      '\uFEFFTime,Temp °C\r\n2026-02-01 10:00,3.5\r\n\r\n2026-02-01 11:00,4\r\n',
    ],
  ])('are found with %s', (_what, text) => {
    const file = read(text, { days: 'dmy' })
    expect(said(file)).toEqual(expected)
    expect(file.faults).toEqual([])
  })

  test('are read in Windows-1252 too, where the degree is one byte', () => {
    const text = 'Time;Temp °C\n2026-02-01 10:00;-3,5\n'
    const result = readLogger(
      Uint8Array.from(text, (c) => c.charCodeAt(0)),
      unanswered,
      setting,
    )
    expect(result.ok && said(result.value)).toEqual([['2026-02-01T10:00:00.000Z', -3.5]])
  })

  test('are asked for when the headings do not say, with what stands below them', () => {
    const text = 'a,b\n2026-02-01 10:00,3.5\n'
    expect(questions(text)).toMatchObject({
      asksForTime: true,
      asksForTemperature: true,
      columns: [
        { at: 0, heading: 'a', example: '2026-02-01 10:00' },
        { at: 1, heading: 'b', example: '3.5' },
      ],
    })
    expect(said(read(text, { timeColumn: 0, temperatureColumn: 1, unit: 'C' }))).toHaveLength(1)
  })

  test('are asked for when there are two probes', () => {
    const text = 'Time,Shelf temp °C,Door temp °C\n2026-02-01 10:00,3.5,6\n'
    expect(questions(text)).toMatchObject({ asksForTime: false, asksForTemperature: true })
    expect(said(read(text, { temperatureColumn: 2 }))).toEqual([['2026-02-01T10:00:00.000Z', 6]])
  })

  test('a file without rows, with too many, or without anything, is refused', () => {
    expect(answer('')).toMatchObject({ refusal: { kind: 'empty-file' } })
    expect(answer('Time,Temp °C\n')).toMatchObject({ refusal: { kind: 'no-rows' } })
    const long = `Time,Temp °C\n${'2026-02-01 10:00,3\n'.repeat(50_001)}`
    expect(answer(long)).toMatchObject({ refusal: { kind: 'too-many-rows', rows: 50_001 } })
  })
})

describe('the unit', () => {
  test('is asked when nothing says it, and never guessed', () => {
    const text = 'Time,Temperature\n2026-02-01 10:00,38.3\n'
    expect(questions(text)).toMatchObject({ asksForUnit: true, columns: null, days: null })
    expect(said(read(text, { unit: 'F' }))).toEqual([['2026-02-01T10:00:00.000Z', 3.5]])
  })

  test('of the file counts for more than an answer', () => {
    expect(read('Time,Temp °C\n2026-02-01 10:00,3.5\n', { unit: 'F' }).readings[0]?.celsius).toBe(3.5)
  })

  test('takes every kind of minus, and has no minus zero', () => {
    const file = read('Time,Temp °C\n2026-02-01 10:00,−1.5\n2026-02-01 11:00,-0.0\n2026-02-01 12:00,–2\n')
    expect(file.readings.map(({ celsius }) => celsius)).toEqual([-1.5, 0, -2])
  })
})

describe('the order of day and month', () => {
  test('is asked when every day could be read both ways', () => {
    const text = 'Time,Temp °C\n03/04/2026 10:00,3\n04/04/2026 10:00,3\n'
    expect(questions(text).days).toEqual({ text: '03/04/2026 10:00', readings: ['2026-04-03', '2026-03-04'] })
    expect(said(read(text, { days: 'dmy' }))[0]).toEqual(['2026-04-03T09:00:00.000Z', 3])
    expect(said(read(text, { days: 'mdy' }))[0]).toEqual(['2026-03-04T10:00:00.000Z', 3])
  })

  test('is told by a day that can be read in one way only', () => {
    expect(said(read('Time,Temp °C\n12/02/2026 10:00,3\n13/02/2026 10:00,3\n'))[0]?.[0]).toBe(
      '2026-02-12T10:00:00.000Z',
    )
    expect(said(read('Time,Temp °C\n02/12/26 10:00 AM,3\n02/13/26 10:00 PM,3\n'))).toEqual([
      ['2026-02-12T10:00:00.000Z', 3],
      ['2026-02-13T22:00:00.000Z', 3],
    ])
  })

  test('is asked when days contradict each other', () => {
    const text = 'Time,Temp °C\n03/04/2026 10:00,3\n13/02/2026 10:00,3\n02/13/2026 10:00,3\n'
    expect(questions(text).days).not.toBeNull()
    expect(read(text, { days: 'dmy' }).faults).toEqual([
      { line: 4, column: 'Time', why: '“02/13/2026 10:00” is not a day and a time' },
    ])
  })
})

describe('a moment', () => {
  const ms = (text: string) => Date.parse(text)
  test.each([
    ['2026-02-01T10:00:00.000Z', 'instant', '2026-02-01T10:00:00Z'],
    ['2026-02-01T10:00:00+01:00', 'instant', '2026-02-01T09:00:00Z'],
    ['2026-02-01 10:00:00 -0530', 'instant', '2026-02-01T15:30:00Z'],
    ['2026/02/01 10:00 UTC', 'instant', '2026-02-01T10:00:00Z'],
    ['2026-02-01 10:00', 'wall', '2026-02-01T10:00:00Z'],
    ['14.2.2026 9.05', 'wall', '2026-02-14T09:05:00Z'],
    ['14 February 2026, 10:00:30', 'wall', '2026-02-14T10:00:30Z'],
    ['Feb 14, 2026 12:05 AM', 'wall', '2026-02-14T00:05:00Z'],
    ['14/02/26 12:05 p.m.', 'wall', '2026-02-14T12:05:00Z'],
    ['Sat 14/02/2026 10:00', 'wall', '2026-02-14T10:00:00Z'],
    ['10:00:00 14/02/2026', 'wall', '2026-02-14T10:00:00Z'],
  ])('is read from %s', (text, kind, instant) => {
    expect(readMoment(text, null)).toEqual({ kind, ms: ms(instant) })
  })

  test.each([
    '',
    'x',
    '10:00',
    '2026-02-30 10:00',
    '2026-02-01 24:30',
    '2026-02-01 10:61',
    '2026-02-01 13:00 PM',
    '14/02/2026 0:10 AM',
  ])('is not read from “%s”', (text) => expect(readMoment(text, null).kind).toBe('no-moment'))

  test('needs a time of day', () => {
    expect(readMoment('2026-02-01', null).kind).toBe('no-time')
  })

  test('never throws, and never gives a moment that is no number, whatever is in the cell', () => {
    const day = fc.stringMatching(
      /^[0-9]{1,4}[-/.][0-9]{1,2}[-/.][0-9]{1,4}[T ][0-9]{1,2}:[0-9]{2}( [ap]m)?[Z]?$/,
    )
    fc.assert(
      fc.property(fc.oneof(day, fc.string()), fc.constantFrom('dmy', 'mdy', null), (text, order) => {
        const moment = readMoment(text, order)
        return !('ms' in moment) || Number.isFinite(moment.ms)
      }),
      { numRuns: 500 },
    )
  })
})

describe('clocks that are changed', () => {
  const spring = ['2026-03-29 00:30', '2026-03-29 01:30', '2026-03-29 02:30']
  const autumn = ['00:30', '01:00', '01:30', '01:00', '01:30', '02:00'].map((time) => `2026-10-25 ${time}`)
  const file = (times: readonly string[]) =>
    `Time,Temp °C\n${times.map((time, i) => `${time},${i}`).join('\n')}\n`

  test('an hour that never was is a bad row, named', () => {
    const { readings, faults } = read(file(spring))
    expect(readings.map(({ at }) => at.toISOString())).toEqual([
      '2026-03-29T00:30:00.000Z',
      '2026-03-29T01:30:00.000Z',
    ])
    expect(faults).toEqual([
      { line: 3, column: 'Time', why: '“2026-03-29 01:30” never was: the clocks went forward over it' },
    ])
  })

  const inUtc = ['23:30', '00:00', '00:30', '01:00', '01:30', '02:00'].map(
    (time, i) => `2026-10-${i === 0 ? 24 : 25}T${time}:00.000Z`,
  )

  test('an hour that was twice is told apart by the order of the rows', () => {
    const forwards = read(file(autumn))
    expect(forwards.readings.map(({ at, celsius }) => [at.toISOString(), celsius])).toEqual(
      inUtc.map((instant, i) => [instant, i]),
    )
    expect(forwards).toMatchObject({ doubled: 4, repeated: 0, faults: [] })
  })

  test('also when the file runs backwards', () => {
    const backwards = read(file(autumn.toReversed()))
    expect(backwards.readings.map(({ at }) => at.toISOString())).toEqual(inUtc)
  })

  test('do not matter to a logger that shows UTC, in an answer or in its heading', () => {
    const asUtc = [...spring.map((time) => `${time.replace(' ', 'T')}:00.000Z`)]
    expect(read(file(spring), { clock: 'utc' }).readings.map(({ at }) => at.toISOString())).toEqual(asUtc)
    expect(
      read(file(spring).replace('Time', 'Time (UTC)')).readings.map(({ at }) => at.toISOString()),
    ).toEqual(asUtc)
  })

  test('are those of the group’s place', () => {
    expect(said(read(file(['2026-01-10 10:00']), {}, 'America/New_York'))[0]?.[0]).toBe(
      '2026-01-10T15:00:00.000Z',
    )
    // Half an hour only, on Lord Howe Island.
    const half = ['2026-04-05 01:15', '2026-04-05 01:45', '2026-04-05 01:45', '2026-04-05 02:15']
    expect(read(file(half), {}, 'Australia/Lord_Howe').readings.map(({ at }) => at.toISOString())).toEqual([
      '2026-04-04T14:15:00.000Z',
      '2026-04-04T14:45:00.000Z',
      '2026-04-04T15:15:00.000Z',
      '2026-04-04T15:45:00.000Z',
    ])
  })

  test('give back every instant of a year that is written down hour by hour', () => {
    const shown = new Intl.DateTimeFormat('sv-SE', {
      timeZone: 'Europe/London',
      dateStyle: 'short',
      timeStyle: 'short',
    })
    const instants = Array.from(
      { length: 8_000 },
      (_, i) => Date.parse('2025-12-01T00:00:00Z') + i * 3_600_000,
    )
    const whole = read(file(instants.map((instant) => shown.format(instant))).replaceAll(/,\d+$/gm, ',3'))
    expect(whole.readings.map(({ at }) => at.getTime())).toEqual(instants)
  })
})

describe('rows that say too much or nothing', () => {
  const head = 'Time,Temp °C\n2026-02-01 10:00,3.5\n'
  const faultOf = (row: string) => read(`${head}${row}\n`).faults

  test('the same moment with the same temperature counts once', () => {
    const file = read(`${head}2026-02-01 10:00,3.50\n2026-02-01T10:00:00Z,3.5\n`)
    expect(file).toMatchObject({ repeated: 2, faults: [] })
    expect(file.readings).toHaveLength(1)
  })

  test('the same moment with another temperature is named, and the first stays', () => {
    const file = read(`${head}2026-02-01 10:00,4.1\n`)
    expect(file.faults).toEqual([
      { line: 3, column: 'Time', why: 'says 4.1 °C for the moment at which line 2 says 3.5 °C' },
    ])
    expect(said(file)).toEqual([['2026-02-01T10:00:00.000Z', 3.5]])
  })

  test.each([
    ['soon,3', 'Time', '“soon” is not a day and a time'],
    [',3', 'Time', 'is empty'],
    ['2026-02-01,3', 'Time', '“2026-02-01” has no time of day'],
    ['2026-02-01 11:00,', 'Temp °C', 'is empty'],
    ['2026-02-01 11:00,n/a', 'Temp °C', '“n/a” is not a temperature'],
    ['2026-02-01 11:00,3 bananas', 'Temp °C', '“3 bananas” is not a temperature'],
    ['2026-02-01 11:00,-127', 'Temp °C', '“-127” is -127 °C: no store has that; was the probe loose?'],
    ['2026-12-01 11:00,3', 'Time', '“2026-12-01 11:00” is still to come: is the logger’s clock right?'],
    [
      '2015-01-01 00:00,3',
      'Time',
      '“2015-01-01 00:00” is more than five years ago: was the logger’s clock set?',
    ],
    ['2026-02-01 11:00,3,5', null, 'has 3 cells, the heading 2: is it a decimal comma without quotes?'],
  ])('names %s with its line, column and reason', (row, column, why) => {
    expect(faultOf(row)).toEqual([{ line: 3, column, why }])
  })
})

describe('gaps', () => {
  test('are the times longer than what is bridged', () => {
    const hours = [0, 1, 2, 8, 8.5, 14.6].map((hour) => ({
      at: new Date(Date.parse('2026-02-01T00:00:00Z') + hour * 3_600_000),
    }))
    expect(gapsBetween(hours, 6 * 3_600_000)).toEqual([{ from: hours[4]?.at, to: hours[5]?.at }])
    expect(gapsBetween([], 1)).toEqual([])
  })
})

describe('a long file', () => {
  test('of 20,000 rows is read whole, in a second or two', () => {
    const start = Date.parse('2026-01-01T00:00:00Z')
    const rows = Array.from({ length: 20_000 }, (_, i) => {
      const at = new Date(start + i * 900_000).toISOString().slice(0, 16).replace('T', ' ')
      return `${i + 1};${at};${(3 + Math.sin(i / 20)).toFixed(2).replace('.', ',')};81`
    })
    const began = performance.now()
    const file = read(`Nr;Zeitpunkt;Temperatur °C;Feuchte\n${rows.join('\n')}\n`)
    expect(performance.now() - began).toBeLessThan(5_000)
    // One hour of the spring never was on the wall.
    expect(file.faults).toHaveLength(4)
    expect(file.readings).toHaveLength(19_996)
  })
})
