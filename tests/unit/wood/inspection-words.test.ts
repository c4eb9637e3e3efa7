import { describe, expect, test } from 'vitest'
import { inspectionFlags, inspectionFlagWords, type Seen, seenWords } from '#lib/wood/inspection-words.ts'

const sound: Seen = { condition: 5, mould: 'none', shrivel: 'none', budStage: 0, nick: 'green' }
const flagsOf = (more: Partial<Seen>) => inspectionFlags({ ...sound, ...more })

describe('the flags of a look', () => {
  test('are none for sound wood, and for wood of which little was looked at', () => {
    expect(flagsOf({})).toEqual([])
    expect(flagsOf({ budStage: null, nick: 'not_done', condition: 3 })).toEqual([])
  })

  test.each([
    [{ nick: 'brown' }, 'brown'],
    [{ condition: 1 }, 'spoilt'],
    [{ condition: 2 }, 'poor'],
    [{ mould: 'wrapping' }, 'mould'],
    [{ shrivel: 'slight' }, 'shrivelled'],
    [{ budStage: 1 }, 'buds-moving'],
    [{ budStage: 6 }, 'buds-moving'],
    [{ budStage: 7 }, 'buds-open'],
  ] as const)('%j raises %s alone', (more, flag) => {
    expect(flagsOf(more)).toEqual([flag])
  })

  test('leave buds out that rest again after the summer', () => {
    expect(flagsOf({ budStage: 91 })).toEqual([])
  })

  test('come gravest first, in words', () => {
    const flags = flagsOf({ mould: 'buds', nick: 'brown', shrivel: 'clear', budStage: 3 })
    expect(inspectionFlagWords(flags)).toBe('brown under the bark, mould, shrivelled, buds moving')
  })
})

describe('a look in words', () => {
  test('says everything, also what was not looked at', () => {
    expect(seenWords(sound)).toBe(
      'As on the day it was cut (5 of 5). No mould; bark not shrivelled; buds tight, 00; green under the bark.',
    )
    expect(
      seenWords({ condition: 2, mould: 'cut_ends', shrivel: 'slight', budStage: null, nick: 'not_done' }),
    ).toBe(
      'Poor (2 of 5). Mould on the cut ends; bark slightly shrivelled; buds not looked at; bark not nicked.',
    )
  })
})
