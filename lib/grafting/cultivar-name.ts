const quotes = '\'"‘’‚‛“”„‟‹›«»`´′″'
const doubled = new RegExp(`^[${quotes}]+\\s*(.*?)\\s*[${quotes}]+$`, 'u')
const opened = new RegExp(`^[${quotes}]\\s*(.*)$`, 'u')

/** Letters that Unicode does not take apart into a plain letter and an accent. */
const plainLetters: Readonly<Record<string, string>> = {
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  ß: 'ss',
  ł: 'l',
  đ: 'd',
  ð: 'd',
  þ: 'th',
  ı: 'i',
}

/**
 * A cultivar epithet as it is stored: without quotes or "cv.", single spaces, a straight apostrophe inside.
 * Capitals stay as given, because older names keep their own. Empty when nothing is left.
 *
 * Source: International Code of Nomenclature for Cultivated Plants, 9th edition 2016, for the quotes and "cv.".
 */
export function normaliseEpithet(text: string): string {
  const spaced = text
    .normalize('NFC')
    .replace(/\s+/gu, ' ')
    .trim()
    .replace(/^cv\.\s*/iu, '')
  const bare = spaced.replace(doubled, '$1').replace(opened, '$1')
  return bare.replace(/[‘’‛`´′]/gu, "'").trim()
}

/** The epithet as it is shown: in single typographic quotes, ‘Cox’s Orange Pippin’. */
export function formatEpithet(epithet: string): string {
  return `‘${epithet.replaceAll("'", '’')}’`
}

/**
 * What two spellings of one name have in common: small plain letters and digits, nothing else. "Reine-Claude" and
 * "reine claude" have the same key, so have "Cox's" and "Coxs".
 */
export function cultivarSearchKey(text: string): string {
  return text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[æœøßłđðþı]/gu, (letter) => plainLetters[letter] ?? letter)
    .replace(/[^\p{Letter}\p{Number}]/gu, '')
}
