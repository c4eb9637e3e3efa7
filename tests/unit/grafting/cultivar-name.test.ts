import { describe, expect, it } from 'vitest'
import { cultivarSearchKey, formatEpithet, normaliseEpithet } from '#lib/grafting/cultivar-name.ts'

describe('an epithet as stored', () => {
  it('loses the quotes it was typed in, straight, curly, double or mixed', () => {
    for (const typed of [
      'Discovery',
      "'Discovery'",
      '‘Discovery’',
      '"Discovery"',
      '“Discovery”',
      "‘Discovery'",
    ]) {
      expect(normaliseEpithet(typed)).toBe('Discovery')
    }
    expect(normaliseEpithet('"\'Discovery\'"')).toBe('Discovery')
    expect(normaliseEpithet("' Discovery '")).toBe('Discovery')
    expect(normaliseEpithet('‘Discovery')).toBe('Discovery')
  })

  it('loses "cv." and double spaces', () => {
    expect(normaliseEpithet('  cv.  Reine   Claude\tVerte ')).toBe('Reine Claude Verte')
    expect(normaliseEpithet("cv. 'Discovery'")).toBe('Discovery')
    expect(normaliseEpithet('Cvikovka')).toBe('Cvikovka')
  })

  it('keeps an apostrophe inside, as a straight one', () => {
    expect(normaliseEpithet('‘Cox’s Orange Pippin’')).toBe("Cox's Orange Pippin")
    expect(normaliseEpithet("Cox's Orange Pippin")).toBe("Cox's Orange Pippin")
    expect(normaliseEpithet("'Pitmaston Pine Apple'")).toBe('Pitmaston Pine Apple')
    expect(normaliseEpithet('D’Arcy Spice')).toBe("D'Arcy Spice")
  })

  it('keeps capitals and accents as given, composed', () => {
    expect(normaliseEpithet('Reine Claude de Bavay')).toBe('Reine Claude de Bavay')
    expect(normaliseEpithet('Beurre\u0301 Hardy')).toBe('Beurré Hardy')
  })

  it('is empty when nothing is left', () => {
    for (const typed of ['', '   ', "''", '‘’', '“ ”', "'"]) expect(normaliseEpithet(typed)).toBe('')
  })

  it('does not change when it is stored twice', () => {
    for (const typed of ["'Discovery'", '‘Cox’s Orange Pippin’', 'D’Arcy Spice', 'cv. "Beurré  Hardy"']) {
      const once = normaliseEpithet(typed)
      expect(normaliseEpithet(once)).toBe(once)
    }
  })
})

describe('an epithet as shown', () => {
  it('stands in single typographic quotes, its apostrophe curled', () => {
    expect(formatEpithet('Discovery')).toBe('‘Discovery’')
    expect(formatEpithet("Cox's Orange Pippin")).toBe('‘Cox’s Orange Pippin’')
  })
})

describe('two spellings of one name', () => {
  it('have the same key whatever their accents, case and punctuation', () => {
    const pairs = [
      ['Reine Claude', 'reine-claude'],
      ['Beurré Hardy', 'BEURRE HARDY'],
      ["Cox's Orange Pippin", '‘Coxs orange pippin’'],
      ['Schöner aus Nordhausen', 'schoner aus nordhausen'],
      ['Weißer Klarapfel', 'Weisser Klarapfel'],
      ['Gråsten', 'GRASTEN'],
      ['Błękitna', 'Blekitna'],
      ['Sturmer №2', 'sturmer no2'],
    ] as const
    for (const [a, b] of pairs) expect(cultivarSearchKey(a), a).toBe(cultivarSearchKey(b))
  })

  it('keep different names apart', () => {
    expect(cultivarSearchKey('Discovery')).not.toBe(cultivarSearchKey('Discoverer'))
    expect(cultivarSearchKey('M 9')).not.toBe(cultivarSearchKey('M 26'))
  })

  it('keep letters of other scripts', () => {
    expect(cultivarSearchKey('Антоновка')).toBe('антоновка')
  })
})
