import { z } from 'zod'
import { civilDate } from '#lib/kernel/civil-date.ts'
import { civilDateField, optionalCivilDate, optionalWholeNumber } from '#lib/kernel/form-values.ts'
import { Packaging } from '#lib/platform/generated/enums.ts'
import { type StorageProfileKey, storageProfiles } from '#lib/viability/storage-profiles.ts'
import { type BadLine, parseTemperature, temperatureLines } from '#lib/viability/temperature-lines.ts'

/** Plants that can be asked about. What is cut in leaf is asked about by its plant. */
export const askedProfiles = Object.values(storageProfiles).filter(({ key }) => key !== 'summer_budwood')

const isAsked = (key: string): key is StorageProfileKey =>
  askedProfiles.some((profile) => profile.key === key)

const askedWood = ['scion_wood', 'hardwood_cuttings', 'budwood'] as const
export type AskedWood = (typeof askedWood)[number]

const blank = (value: unknown) => (value === '' || value === null ? undefined : value)
const [firstDay, lastDay] = [civilDate('2000-01-01'), civilDate('2100-12-31')]

/** An address holds so many characters of pasted temperatures; servers refuse much longer ones. */
export const longestHistory = 6_000

const badLineWords: Record<BadLine['why'], string> = {
  'not-read': 'is not a day and a temperature',
  'no-such-day': 'has a day that is not in the calendar',
  'absurd-temperature': 'has a temperature outside −40 to 50 °C',
  'same-moment': 'says something else of a moment that an earlier line has',
}

const linesNamed = 3

function badLineMessages(bad: readonly BadLine[]): string[] {
  const named = bad.slice(0, linesNamed).map(({ line, text, why }) => {
    const shown = text.trim().length > 40 ? `${text.trim().slice(0, 40)}…` : text.trim()
    return `Line ${line} (“${shown}”) ${badLineWords[why]}.`
  })
  const more = bad.length - named.length
  return more > 0 ? [...named, `${more} more cannot be used either.`] : named
}

const history = z.preprocess(
  (value) => (typeof value === 'string' && value.trim() !== '' ? value : undefined),
  z
    .string()
    .max(longestHistory, {
      abort: true,
      error: `Paste at most ${longestHistory.toLocaleString('en')} characters; a line every few hours is enough`,
    })
    .transform((text, context) => {
      const { lines, bad } = temperatureLines(text)
      for (const message of badLineMessages(bad)) context.addIssue({ code: 'custom', message })
      return bad.length > 0 ? z.NEVER : lines
    })
    .optional(),
)

const celsiusMessage = 'Enter a temperature from −40 to 50 °C, such as 4 or 39 F, or leave it empty'

const celsius = z.preprocess(
  blank,
  z
    .string()
    .transform((text, context) => {
      const value = parseTemperature(text)
      if (value !== null) return value
      context.addIssue({ code: 'custom', message: celsiusMessage })
      return z.NEVER
    })
    .optional(),
)

/** What the calculator is asked, as it stands in an address. */
export const WindowQuestion = z
  .object({
    crop: z.preprocess(
      blank,
      z.string({ error: 'Choose a crop' }).refine(isAsked, { error: 'Choose a crop from the list' }),
    ),
    wood: z.preprocess(
      (value) => blank(value) ?? 'scion_wood',
      z.enum(askedWood, { error: 'Choose scion_wood, hardwood_cuttings or budwood' }),
    ),
    cut: civilDateField('Say on which day the wood is cut, as 2027-01-11').refine(
      (day) => day >= firstDay && day <= lastDay,
      { error: 'Choose a day between 2000 and 2100' },
    ),
    buds: optionalWholeNumber({ min: 0, max: 99, message: 'Choose how the buds look' }),
    packing: z.preprocess(blank, z.enum(Packaging, { error: 'Choose how the sticks are packed' }).optional()),
    celsius,
    history,
    swap: optionalCivilDate('Enter the day of the swap as 2027-02-21, or leave it empty'),
    rate: optionalWholeNumber({
      min: 1,
      max: 100,
      message: 'Enter a rate from 1 to 100 %, or leave it empty',
    }),
  })
  .superRefine(({ cut, swap, history: lines = [] }, context) => {
    const refuse = (field: string, message: string) =>
      context.addIssue({ code: 'custom', path: [field], message })
    if (swap !== undefined && swap < cut) refuse('swap', 'The day of the swap is before the day of cutting')
    if (swap !== undefined && swap > lastDay) refuse('swap', 'Choose a day before 2101')
    const early = lines.find(({ wallMs }) => new Date(wallMs).toISOString().slice(0, 10) < cut)
    if (early) refuse('history', `Line ${early.line} is before the day of cutting.`)
    const late = lines.find(({ wallMs }) => new Date(wallMs).toISOString().slice(0, 10) > lastDay)
    if (late) refuse('history', `Line ${late.line} is after the year 2100.`)
  })
export type WindowQuestion = z.output<typeof WindowQuestion>

/** The names of the fields, in the order of the form. */
export const questionFields = Object.keys(WindowQuestion.shape)
